/** What the name and the date of a file tell of the walk in it. */
export interface Guess {
  /** Milliseconds since 1970. */
  readonly begun: number;
  /** Whether the name says it, or only the file's date. */
  readonly from: 'name' | 'date';
  /** An aircraft that is known here and named in the file's name; null for none. */
  readonly aircraft: string | null;
}

const DATED =
  /(?<!\d)(20\d{2})[-_. ]?(0[1-9]|1[0-2])[-_. ]?(0[1-9]|[12]\d|3[01])(?:[T _-]*([01]\d|2[0-3])[-_:.h]?([0-5]\d)(?!\d{3}))?/;

/** "2026-03-01 0842 Rowan 2.m4a" was walked on that day at that minute, on that aircraft. Local time. */
export function guessOf(
  { name, lastModified }: Pick<File, 'name' | 'lastModified'>,
  known: readonly string[],
): Guess {
  const plain = (text: string) => text.replace(/[^a-z0-9]/gi, '').toLowerCase();
  const aircraft = known.find((a) => plain(a).length > 2 && plain(name).includes(plain(a))) ?? null;
  const [, year, month, day, hour, minute] = DATED.exec(name) ?? [];
  const at =
    year === undefined
      ? Number.NaN
      : new Date(
          Number(year),
          Number(month) - 1,
          Number(day),
          Number(hour ?? 12),
          Number(minute ?? 0),
        ).getTime();
  // 31 February is a day in March to the engine, and no date at all.
  const real = !Number.isNaN(at) && new Date(at).getDate() === Number(day);
  return { begun: real ? at : lastModified, from: real ? 'name' : 'date', aircraft };
}

/** For a field of date and time, which has no zone: local. */
export function fieldOf(at: number): string {
  const d = new Date(at);
  const two = (n: number) => String(n).padStart(2, '0');
  return `${String(d.getFullYear()).padStart(4, '0')}-${two(d.getMonth() + 1)}-${two(d.getDate())}T${two(d.getHours())}:${two(d.getMinutes())}`;
}
