/** One stretch of talk in a transcript, before it becomes a Heard. Times in seconds. */
export interface Piece {
  readonly text: string;
  readonly from: number | null;
  readonly to: number | null;
  readonly speaker: string | null;
  /** First line of it in the file, from 1. */
  readonly line: number;
}

/** What was odd, by kind, so that 100,000 faults make one sentence and not 100,000. */
export interface Oddities {
  note(kind: string, line: number): void;
  sentences(file: string): string[];
}

/** `kind` is the rest of the sentence after the count, for one and for several: "ends … | end …". */
export function oddities(): Oddities {
  const seen = new Map<string, { count: number; line: number }>();
  return {
    note(kind, line) {
      const at = seen.get(kind);
      if (at === undefined) seen.set(kind, { count: 1, line });
      else at.count += 1;
    },
    sentences(file) {
      return [...seen].map(([kind, { count, line }]) => {
        const [one = '', many = one] = kind.split(' | ');
        return count === 1
          ? `${file}, line ${line}: one ${one}.`
          : `${file}, from line ${line}: ${count} ${many}.`;
      });
    },
  };
}

/** White space as it is written in a transcript means nothing: one space. */
export function tidy(text: string): string {
  return text.replace(/[\s\u00A0\u200E\u200F]+/g, ' ').trim();
}

const WHO =
  /^\s*(?:>>\s*)?((?:speaker|pilot|instructor|student|owner|mechanic|inspector|examiner|captain|co-?pilot|engineer)(?:[ _-]?[a-z0-9]{1,2})?)\s*:\s+/i;

/**
 * Takes "Instructor:" off the front. Only well-known roles: "Left tyre: good"
 * must stay whole, and a name wrongly kept in the words costs less than words
 * wrongly taken for a name.
 */
export function speakerOf(text: string): { speaker: string | null; text: string } {
  const match = WHO.exec(text);
  if (match === null) return { speaker: null, text: text.replace(/^\s*>>\s*/, '') };
  return { speaker: match[1] ?? null, text: text.slice(match[0].length) };
}
