import bidiFactory from 'bidi-js';

/* Text as it goes onto paper: which letters, and in which order they are seen. */

/**
 * Text as one line of composed letters. What draws nothing (joiners, marks of
 * direction) is left out, and every kind of blank is one.
 */
export function printable(text: string): string {
  return text
    .normalize('NFC')
    .replace(/\p{Default_Ignorable_Code_Point}|\ufeff/gu, '')
    .replace(/[\s\p{Cc}]+/gu, ' ');
}

/**
 * Letters that the font lacks, by their numbers in Unicode: "[U+5F20 U+4E09]". A
 * name that cannot be drawn is still the name of one person, and of nobody else.
 */
export function named(text: string, has: (letter: string) => boolean): string {
  const out: string[] = [];
  let lacking: string[] = [];
  const close = () => {
    if (lacking.length > 0) out.push(`[${lacking.join(' ')}]`);
    lacking = [];
  };
  for (const letter of text) {
    if (has(letter)) {
      close();
      out.push(letter);
    } else
      lacking.push(`U+${(letter.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}`);
  }
  close();
  return out.join('');
}

/** Letters of the blocks that run from right to left: Hebrew to Arabic Extended-A, and their forms of presentation. */
const LEFTWARD = '\\u0590-\\u08ff\\ufb1d-\\ufdff\\ufe70-\\ufefc';
const RIGHT_TO_LEFT = new RegExp(`[${LEFTWARD}]`);

/** From such a letter to the last one before a letter of another direction. */
const SPAN = new RegExp(`[${LEFTWARD}](?:[${LEFTWARD}\\P{L}]*[${LEFTWARD}])?`, 'gu');
/** What sets a span apart from the figures beside it: a name moves no date. */
const [ISOLATE, ISOLATED] = ['\u2067', '\u2069'];

export const hasRightToLeft = (text: string): boolean => RIGHT_TO_LEFT.test(text);

const bidi = bidiFactory();

/**
 * Text in runs of one direction each, in the order in which they are seen from
 * left to right (Unicode Standard Annex 9, rule L2). The documents are English: a
 * line runs left to right as a whole, and what runs the other way is set apart
 * in it (4.3, HL3), or the date after a name would jump before it. Within a run
 * the letters stay as they are read.
 */
export function seenRuns(line: string): string[] {
  const text = line.replace(SPAN, `${ISOLATE}$&${ISOLATED}`);
  const { levels } = bidi.getEmbeddingLevels(text, 'ltr');
  const mirrored = bidi.getMirroredCharactersMap(text, levels);
  const runs: { level: number; text: string }[] = [];
  for (let i = 0; i < text.length; i += 1) {
    const level = levels[i] ?? 0;
    const letter = mirrored.get(i) ?? text.charAt(i);
    if (letter === ISOLATE || letter === ISOLATED) continue;
    const last = runs.at(-1);
    if (last !== undefined && last.level === level) last.text += letter;
    else runs.push({ level, text: letter });
  }
  const highest = Math.max(0, ...runs.map((r) => r.level));
  for (let level = highest; level > 0; level -= 1) {
    for (let from = 0; from < runs.length; from += 1) {
      let to = from;
      while ((runs[to]?.level ?? -1) >= level) to += 1;
      if (to > from + 1) runs.splice(from, to - from, ...runs.slice(from, to).reverse());
      from = Math.max(from, to);
    }
  }
  return runs.map((r) => r.text);
}
