import type { Standing } from '#shared/coverage';
import type { Face, Faces } from './letters.ts';
import { hasRightToLeft, named, printable } from './pdf-words.ts';

export interface Line {
  readonly text: string;
  readonly size?: number;
  readonly bold?: boolean;
  readonly pale?: boolean;
  /** Points from the left margin. */
  readonly indent?: number;
  /** Points above it. */
  readonly above?: number;
  /** A heading, and how deep: what readers list beside the pages. */
  readonly level?: 1 | 2 | 3;
  /** How a check stands, drawn before its words, which say it too. */
  readonly mark?: Standing | 'finding';
}

/** A line in the rows that it takes on paper. */
export interface Laid {
  readonly line: Line;
  readonly rows: readonly string[];
  readonly size: number;
  readonly face: Face;
  readonly indent: number;
  readonly above: number;
  /** Its letters as they are read, where they are not drawn so. */
  readonly actual: string | null;
}

/** Height of a line against the size of its letters. */
export const LEADING = 1.32;

/** Room before the words of a check for its mark, pt. */
export const MARK = 14;

export function heightOf(laid: readonly Laid[]): number {
  return laid.reduce((sum, l) => sum + l.above + l.rows.length * l.size * LEADING, 0);
}

export function wrapped(line: Line, faces: Faces, wide: number): Laid {
  const size = line.size ?? 10;
  const face = line.bold === true ? faces.bold : faces.plain;
  const indent = (line.indent ?? 0) + (line.mark === undefined ? 0 : MARK);
  const read = printable(line.text);
  const text = named(read, face.has);
  return {
    line,
    rows: rowsOf(text, face, size, wide - indent),
    size,
    face,
    indent,
    above: line.above ?? 0,
    actual: text === read && !hasRightToLeft(read) ? null : read,
  };
}

/** Every row but the last ends with the blank it was broken at: read aloud, its last word is not joined to the next. */
function rowsOf(text: string, face: Face, size: number, room: number): string[] {
  const rows: string[] = [];
  let row = '';
  for (const word of text.split(' ')) {
    const longer = row === '' ? word : `${row} ${word}`;
    if (face.wide(longer, size) <= room) {
      row = longer;
      continue;
    }
    if (row !== '') rows.push(`${row} `);
    const pieces = broken(word, face, size, room);
    rows.push(...pieces.slice(0, -1));
    row = pieces.at(-1) ?? '';
  }
  return [...rows, row];
}

/** A word that is wider than the page, in pieces that are not. */
function broken(word: string, face: Face, size: number, room: number): string[] {
  const pieces: string[] = [];
  let piece = '';
  for (const letter of word) {
    if (piece !== '' && face.wide(piece + letter, size) > room) {
      pieces.push(piece);
      piece = '';
    }
    piece += letter;
  }
  return [...pieces, piece];
}

/** As much as fits; what is cut is said by its dots. */
export function cut(text: string, face: Face, size: number, room: number): string {
  if (face.wide(text, size) <= room) return text;
  let short = [...text];
  while (short.length > 0 && face.wide(`${short.join('')}…`, size) > room)
    short = short.slice(0, -1);
  return `${short.join('')}…`;
}
