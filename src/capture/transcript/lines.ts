import { speakerOf, tidy, type Oddities, type Piece } from './piece.ts';

const STAMP_TIME = String.raw`(?:(\d{1,3}):)?(\d{1,3}):(\d{2})(?:[.,](\d{1,3}))?`;
/** `[m:ss]`, `[h:mm:ss]`, with parts of a second, and a range of two with a dash or an arrow. */
const STAMP = new RegExp(
  String.raw`^\s*[[(]\s*${STAMP_TIME}(?:\s*(?:-{1,2}>?|–|to)\s*${STAMP_TIME})?\s*[\])]\s*`,
);
/** Something in brackets that begins like a stamp: worth a word when it is none. */
const LIKE_A_STAMP = /^\s*\[\s*-?\d[\d:.,\s-]*\]/;

function seconds(groups: readonly (string | undefined)[]): number | null {
  const [h, m, s, part] = groups;
  if (m === undefined || s === undefined) return null;
  const minutes = Number(m);
  if (Number(s) > 59 || (h !== undefined && minutes > 59)) return null;
  return (
    Number(h ?? 0) * 3600 + minutes * 60 + Number(s) + Number((part ?? '0').padEnd(3, '0')) / 1000
  );
}

/**
 * Plain text. Without stamps every line is one utterance. With stamps, lines
 * under a stamp belong to it until an empty line or the next stamp.
 */
export function readLines(lines: readonly string[], odd: Oddities): Piece[] {
  const pieces: { text: string[]; from: number | null; to: number | null; line: number }[] = [];
  let open: (typeof pieces)[number] | null = null;
  let latest = -Infinity;
  lines.forEach((line, i) => {
    if (line.trim() === '') {
      open = null;
      return;
    }
    const match = STAMP.exec(line);
    if (match === null) {
      if (LIKE_A_STAMP.test(line)) {
        odd.note(
          'stamp cannot be read as [m:ss] or [h:mm:ss]; the line is kept without a time | stamps cannot be read as [m:ss] or [h:mm:ss]; the lines are kept without a time',
          i + 1,
        );
        open = null;
        pieces.push({ text: [line.replace(LIKE_A_STAMP, '')], from: null, to: null, line: i + 1 });
      } else if (open === null) {
        pieces.push({ text: [line], from: null, to: null, line: i + 1 });
      } else open.text.push(line);
      return;
    }
    let from = seconds(match.slice(1, 5));
    let to = seconds(match.slice(5, 9));
    if (from === null) {
      odd.note(
        'stamp has minutes or seconds above 59; the line is kept without a time | stamps have minutes or seconds above 59; the lines are kept without a time',
        i + 1,
      );
      to = null;
    } else if (from < latest) {
      // The order of the lines is what was said; the stamp is the likelier slip.
      odd.note(
        'stamp goes back in time; the line is kept in its place without a time | stamps go back in time; the lines are kept in their place without a time',
        i + 1,
      );
      from = null;
      to = null;
    } else latest = from;
    if (from !== null && to !== null && to < from) to = null;
    open = { text: [line.slice(match[0].length)], from, to, line: i + 1 };
    pieces.push(open);
  });
  return pieces
    .map(({ text, ...at }) => ({ ...at, ...speakerOf(tidy(text.join(' '))) }))
    .filter((piece) => piece.text !== '');
}
