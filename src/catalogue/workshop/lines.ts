import { UNIT } from './measured.ts';
import { unscanned } from './scanned.ts';
import { FURNITURE } from './trade.ts';

/** A line as the author sees it, out of one or several lines of the text. */
export interface Line {
  readonly text: string;
  /** Lines of the text; the first is 1. */
  readonly lines: readonly number[];
  /** Nothing, or an empty line, stands before it. */
  readonly opens: boolean;
  /** It had a number, a letter or a bullet, which was taken away. */
  readonly marked: boolean;
}

export interface LinesRead {
  readonly lines: readonly Line[];
  /** What belongs to the paper: page numbers, revisions, rules. */
  readonly paper: readonly { readonly line: number; readonly text: string }[];
}

/** What stands between a thing and what is to be done with it. */
export const SEPARATOR =
  /\s*(?:\.{3,}|(?:\. ){2,}\.?|…+|_{3,}|-\.+)[\s.…-]*|\t+| {3,}|\s+(?:-{1,2}|–|—|=)\s+|:\s+/;
/** "1.", "1.2", "a)", "(b)", "•", "[ ]". A number with a unit behind it is no mark. */
const MARK = new RegExp(
  '^(?:(?:\\[[ xX_]?\\]|☐|□|[•·*▪◦‣>-])\\s+|\\((?:\\d{1,2}|[a-z]|[ivx]{1,4})\\)\\s+|' +
    `(?:\\d{1,2}(?:\\.\\d{1,2}){0,3}[.)]?|[a-z][.)]|[ivx]{1,4}[.)])\\s+(?!${UNIT}|(?:to|–|-)\\s)(?=\\S))`,
  'iu',
);
/** A column begins behind so many spaces. */
const GAP = / {3,}/;
/** Of the lines of a block, this share must show two columns. Too low splits a thing from its action. */
const COLUMNS = 0.6;
/** A page whose list is marked on this share of its lines is a marked list: what is unmarked in it goes on. Broken lines and the heading have no mark. */
const MARKED = 0.35;
const OPEN_END =
  /(?:,|\b(?:to|than|and|or|of|the|for|with|in|on|not|at|no|all|minimum|maximum|less|more))$/i;

interface Physical {
  readonly text: string;
  readonly line: number;
  readonly opens: boolean;
}

/** The text as lines that mean something by themselves: scans mended, columns set below each other, broken lines joined. */
export function linesOf(text: string): LinesRead {
  const paper: { line: number; text: string }[] = [];
  const blocks: Physical[][] = [];
  let block: Physical[] = [];
  text.split(/\r\n|[\n\r\f\v\u2028\u2029]/).forEach((raw, i) => {
    const whole = raw
      .replaceAll('\u00a0', ' ')
      .replace(/[\u200b\ufeff\u00ad]/g, '')
      .trimEnd();
    if (whole.trim() === '') {
      if (block.length > 0) blocks.push(block);
      block = [];
    } else if (FURNITURE.test(whole)) {
      paper.push({ line: i + 1, text: whole.trim() });
    } else block.push({ text: unscanned(whole), line: i + 1, opens: block.length === 0 });
  });
  if (block.length > 0) blocks.push(block);
  return { lines: blocks.flatMap((b) => joined(columns(b))), paper };
}

/** Two columns side by side become two lists, the left one first. */
function columns(block: readonly Physical[]): Physical[] {
  const halves = block.map((p) => halved(p.text));
  const both = halves.filter((h) => h !== null).length;
  const withSeparator = halves.filter(
    (h) => h !== null && h.every((c) => SEPARATOR.test(c)),
  ).length;
  if (
    block.length < 2 ||
    both / block.length < COLUMNS ||
    withSeparator < 1 ||
    withSeparator / both < COLUMNS
  )
    return [...block];
  const left: Physical[] = [];
  const right: Physical[] = [];
  block.forEach((p, i) => {
    const half = halves[i];
    if (half === null || half === undefined) {
      const far = /^\s{20,}/.test(p.text);
      (far ? right : left).push(p);
      return;
    }
    left.push({ ...p, text: half[0] });
    right.push({ ...p, text: half[1] });
  });
  return [
    ...left.map((p, i) => ({ ...p, opens: i === 0 })),
    ...right.map((p, i) => ({ ...p, opens: i === 0 })),
  ];
}

/** The two columns of a line; null when it has only one. */
function halved(text: string): readonly [string, string] | null {
  const cells = text.trim().split(GAP);
  if (cells.length === 2) return [cells[0] ?? '', cells[1] ?? ''];
  if (cells.length === 4) return [`${cells[0]}   ${cells[1]}`, `${cells[2]}   ${cells[3]}`];
  return null;
}

/** Lines that a page broke are put together again. */
function joined(block: readonly Physical[]): Line[] {
  const marked = block.map((p) => MARK.test(p.text.trim()));
  const list = marked.filter(Boolean).length / block.length >= MARKED;
  const out: Line[] = [];
  block.forEach((p, i) => {
    const text = p.text.trim();
    const last = out.at(-1);
    const goesOn =
      last !== undefined &&
      !p.opens &&
      marked[i] !== true &&
      (/[\p{L}]-$/u.test(last.text) || continues(last, text, list));
    if (goesOn) {
      const hyphen = /[\p{L}]-$/u.test(last.text);
      out[out.length - 1] = {
        ...last,
        text: hyphen ? last.text.slice(0, -1) + text : `${last.text} ${text}`,
        lines: [...last.lines, p.line],
      };
      return;
    }
    out.push({
      text: text.replace(MARK, '').trim(),
      lines: [p.line],
      opens: p.opens,
      marked: marked[i] === true,
    });
  });
  return out;
}

function continues(last: Line, text: string, list: boolean): boolean {
  const open = OPEN_END.test(last.text);
  const separated = SEPARATOR.test(text);
  if (list) return last.marked && (!separated || open || /^[\p{Ll}\d]/u.test(text));
  // Out of a list: a line that begins small, after one that did not end.
  return (
    !separated &&
    !/[.:;!?]$/.test(last.text) &&
    ((open && /^[\p{Ll}\d]/u.test(text)) || (/^\p{Ll}/u.test(text) && last.text.length > 40))
  );
}
