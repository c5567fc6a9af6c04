import { fieldsAt } from '#catalogue';

export type Path = readonly (string | number)[];
export type Fields = Readonly<Record<string, unknown>>;

/** What of a field is words. */
export function wordsOf(value: unknown): string {
  return typeof value === 'string' || typeof value === 'number' ? String(value) : '';
}

/** A field that may be a list, as a list. */
export function listOf(value: unknown): readonly unknown[] {
  return Array.isArray(value) ? (value as readonly unknown[]) : [];
}

/** The names of a list whose entries are words, or things with a name. */
export function namesOf(value: unknown): string[] {
  return listOf(value).flatMap((v) => {
    const name = isFields(v) ? v['name'] : v;
    return typeof name === 'string' || typeof name === 'number' ? [String(name)] : [];
  });
}

export function isFields(value: unknown): value is Fields {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** Words with commas between, as a list. */
export function listed(text: string): string[] {
  return text
    .split(',')
    .map((w) => w.trim())
    .filter((w) => w !== '');
}

/** The things of a list in the file, one after the other. */
export function rowsAt(text: string, path: Path): readonly Fields[] {
  const rows: Fields[] = [];
  for (;;) {
    const row = fieldsAt(text, [...path, rows.length]);
    if (row === null) return rows;
    rows.push(row);
  }
}

/** A number as it was typed, with a comma or a point; words stay words, and the reader of the file says what it expected. */
export function numberOf(text: string): unknown {
  const n = Number(text.replace(',', '.'));
  return text.trim() === '' ? undefined : Number.isFinite(n) ? n : text;
}
