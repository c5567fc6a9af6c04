import type { Standing } from '#shared/coverage';
import type { Figure } from './figure.ts';
import { PDFDocument, StandardFonts, rgb, type PDFFont, type PDFPage } from 'pdf-lib';
import { outline, type Mark } from './pdf-outline.ts';

export type PaperSize = 'a4' | 'letter';

/** Points of 1/72 inch. ISO 216 A4 and ANSI Letter. */
const SIZES: Readonly<Record<PaperSize, readonly [number, number]>> = {
  a4: [595.28, 841.89],
  letter: [612, 792],
};
const MARGIN = 48;
const FOOT = 30;
const INK = rgb(0.08, 0.08, 0.1);
const PAPER = rgb(1, 1, 1);
const PALE = rgb(0.42, 0.42, 0.46);

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

/**
 * Text that flows over pages. Blocks are not torn: one that does not fit goes
 * to the next page whole, unless it is longer than a page.
 */
export interface Flow {
  /** Lines that stay together, with the line to write on that comes next where there is one. */
  block(lines: readonly Line[], ruled?: boolean): void;
  /** From here on a new page opens with these words, continued: what stands on it belongs to them. null: no longer. */
  under(title: string | null): void;
  /** A picture with its words under it, which stay together. false: these bytes are no picture. */
  picture(jpeg: ArrayBuffer, caption: string): Promise<boolean>;
  /** A drawing as wide as the page, with its words under it. */
  figure(figure: Figure): void;
  /** A rule across the page, such as for a signature, with words under it. */
  rule(label: string): void;
  bytes(): Promise<Uint8Array<ArrayBuffer>>;
}

interface Fonts {
  readonly plain: PDFFont;
  readonly bold: PDFFont;
}

/** @param head repeated at the top of every page, with "page n of m" beside it. */
export async function pdfFlow(head: string, size: PaperSize): Promise<Flow> {
  const document = await PDFDocument.create();
  document.setTitle(printable(head));
  document.setLanguage('en');
  document.setProducer('Talkround');
  const fonts: Fonts = {
    plain: await document.embedFont(StandardFonts.Helvetica),
    bold: await document.embedFont(StandardFonts.HelveticaBold),
  };
  const [width, height] = SIZES[size];
  const wide = width - 2 * MARGIN;
  const pages: PDFPage[] = [];
  const headings: Mark[] = [];
  let page = next();
  let y = top();
  let over: string | null = null;

  function next(): PDFPage {
    const made = document.addPage([width, height]);
    pages.push(made);
    return made;
  }

  function top(): number {
    return height - MARGIN - 22;
  }

  function turn(): void {
    page = next();
    y = top();
    if (over === null) return;
    y -= CONTINUED * LEADING;
    const text = printable(`${over}, continued`);
    page.drawText(text, { x: MARGIN, y, size: CONTINUED, font: fonts.bold, color: INK });
    y -= CONTINUED / 2;
  }

  function heightOf(laid: readonly Laid[]): number {
    return laid.reduce((sum, l) => sum + l.above + l.size * LEADING, 0);
  }

  function draw(laid: readonly Laid[]): void {
    for (const line of laid) {
      if (y - line.above - line.size * LEADING < MARGIN + FOOT) turn();
      y -= line.above + line.size * LEADING;
      if (line.level !== undefined)
        headings.push({ ...line.level, page, top: y + line.size * LEADING });
      page.drawText(line.text, {
        x: MARGIN + line.indent,
        y,
        size: line.size,
        font: line.font,
        color: line.pale ? PALE : INK,
      });
      if (line.mark !== null && line.mark !== undefined)
        drawMark(page, line.mark, MARGIN + line.indent - MARK, y, line.size);
    }
  }

  return {
    block(lines, ruled = false) {
      const laid = lines.flatMap((line) => wrapped(line, fonts, wide));
      const needs = heightOf(laid) + (ruled ? RULE : 0);
      if (y - needs < MARGIN + FOOT && needs < height / 2) turn();
      draw(laid);
    },
    under(title) {
      over = title;
    },
    rule(label) {
      if (y - RULE < MARGIN + FOOT) turn();
      y -= 38;
      page.drawLine({
        start: { x: MARGIN, y },
        end: { x: MARGIN + wide * 0.6, y },
        thickness: 0.6,
        color: INK,
      });
      y -= 11;
      page.drawText(printable(label), { x: MARGIN, y, size: 8, font: fonts.plain, color: PALE });
    },
    async picture(jpeg, caption) {
      const image = await document.embedJpg(jpeg).catch(() => null);
      if (image === null) return false;
      const fits = image.scaleToFit(Math.min(PICTURE_WIDE, wide), PICTURE_HIGH);
      const words = wrapped({ text: caption, size: 8, pale: true }, fonts, wide);
      const needs = fits.height + PICTURE_ROOM + heightOf(words);
      if (y - needs < MARGIN + FOOT) turn();
      y -= fits.height + PICTURE_ROOM;
      page.drawImage(image, { x: MARGIN, y, width: fits.width, height: fits.height });
      draw(words);
      return true;
    },
    figure(figure) {
      const scale = wide / figure.width;
      const words = wrapped({ text: figure.told, size: 8, pale: true }, fonts, wide);
      const high = figure.height * scale + PICTURE_ROOM;
      if (y - high - heightOf(words) < MARGIN + FOOT) turn();
      drawFigure(page, figure, { x: MARGIN, y: y - PICTURE_ROOM, scale, fonts });
      y -= high;
      draw(words);
    },
    async bytes() {
      pages.forEach((p, i) => {
        const number = `page ${i + 1} of ${pages.length}`;
        const right = width - MARGIN - fonts.plain.widthOfTextAtSize(number, 8);
        const at = { y: height - MARGIN, size: 8, font: fonts.plain, color: PALE };
        p.drawText(cut(printable(head), fonts.plain, right - 2 * MARGIN), { x: MARGIN, ...at });
        p.drawText(number, { x: right, ...at });
      });
      outline(document, headings);
      const saved = await document.save();
      return new Uint8Array(saved);
    },
  };
}

/** As much of the head as fits before the number of the page; what is cut is said by its dots. */
function cut(text: string, font: PDFFont, wide: number): string {
  if (font.widthOfTextAtSize(text, 8) <= wide) return text;
  let short = text;
  while (font.widthOfTextAtSize(`${short}…`, 8) > wide) short = short.slice(0, -1);
  return `${short}…`;
}

/** Size of the line that opens a page in the middle of a station, pt. */
const CONTINUED = 10;

/** A picture on paper, at most, pt: three of them on a page, each as large as a phone shows it. */
const PICTURE_WIDE = 320;
const PICTURE_HIGH = 210;
/** Above a picture, pt. */
const PICTURE_ROOM = 6;

/** Height of a line to write on, with its label, pt. */
const RULE = 52;

/** Height of a line against the size of its letters. */
const LEADING = 1.32;

/** Room before the words of a check for its mark, pt. */
const MARK = 14;

/**
 * The marks of the screens: a disc filled as far as a check was spoken for, a
 * diamond for a question, a cross for a skipped one, a bar for one set aside, a
 * triangle for a finding. Told apart by shape on any printer.
 */
function drawMark(
  page: PDFPage,
  mark: NonNullable<Line['mark']>,
  x: number,
  y: number,
  size: number,
): void {
  const r = size * 0.36;
  const [cx, cy] = [x + r, y + size * 0.34];
  const ink = { borderColor: INK, borderWidth: 0.8 };
  const line = (x1: number, y1: number, x2: number, y2: number) =>
    page.drawLine({
      start: { x: cx + x1 * r, y: cy + y1 * r },
      end: { x: cx + x2 * r, y: cy + y2 * r },
      thickness: 1,
      color: INK,
    });
  const path = (d: string, filled = false) =>
    page.drawSvgPath(d, { x: cx, y: cy, ...ink, ...(filled ? { color: INK } : {}) });
  switch (mark) {
    case 'spoken':
      return page.drawCircle({ x: cx, y: cy, size: r, color: INK, ...ink });
    case 'unspoken':
      return page.drawCircle({ x: cx, y: cy, size: r, ...ink });
    case 'part':
      page.drawCircle({ x: cx, y: cy, size: r, ...ink });
      return path(`M0 ${-r}A${r} ${r} 0 0 0 0 ${r}Z`, true);
    case 'question':
      return path(`M0 ${-r}L${r} 0L0 ${r}L${-r} 0Z`);
    case 'skipped':
      line(-0.8, -0.8, 0.8, 0.8);
      return line(-0.8, 0.8, 0.8, -0.8);
    case 'set-aside':
      return line(-1, 0, 1, 0);
    case 'finding':
      return path(`M0 ${-r}L${r} ${r}L${-r} ${r}Z`, true);
  }
}

function drawFigure(
  page: PDFPage,
  { items }: Figure,
  at: { readonly x: number; readonly y: number; readonly scale: number; readonly fonts: Fonts },
): void {
  const place = ([x, y]: readonly [number, number]) => ({
    x: at.x + x * at.scale,
    y: at.y - y * at.scale,
  });
  const ink = { borderColor: INK, borderWidth: 0.8 };
  for (const item of items)
    switch (item.kind) {
      case 'line':
        page.drawLine({
          start: place(item.from),
          end: place(item.to),
          thickness: item.wide,
          color: item.ink === 'ink' ? INK : PALE,
        });
        break;
      case 'disc':
        page.drawCircle({
          ...place(item.at),
          size: item.r,
          ...ink,
          color: item.filled ? INK : PAPER,
        });
        break;
      case 'triangle':
        page.drawSvgPath(`M0 ${-item.r}L${item.r} ${item.r}L${-item.r} ${item.r}Z`, {
          ...place(item.at),
          color: INK,
        });
        break;
      case 'text':
        page.drawText(printable(item.text), {
          ...place(item.at),
          size: item.size,
          font: item.bold ? at.fonts.bold : at.fonts.plain,
          color: INK,
        });
    }
}

interface Laid {
  readonly text: string;
  readonly size: number;
  readonly font: PDFFont;
  readonly pale: boolean;
  readonly indent: number;
  readonly above: number;
  readonly mark: Line['mark'] | null;
  /** Of the first row of a heading: its words, in full. */
  readonly level?: { readonly level: number; readonly title: string };
}

function wrapped(line: Line, fonts: Fonts, wide: number): Laid[] {
  const size = line.size ?? 10;
  const font = line.bold === true ? fonts.bold : fonts.plain;
  const indent = (line.indent ?? 0) + (line.mark === undefined ? 0 : MARK);
  const rows: string[] = [];
  let row = '';
  for (const word of printable(line.text)
    .split(' ')
    .flatMap((w) => broken(w))) {
    const longer = row === '' ? word : `${row} ${word}`;
    if (font.widthOfTextAtSize(longer, size) <= wide - indent) row = longer;
    else {
      if (row !== '') rows.push(row);
      row = word;
    }
  }
  rows.push(row);
  return rows.map((text, i) => ({
    text,
    size,
    font,
    pale: line.pale ?? false,
    indent,
    above: i === 0 ? (line.above ?? 0) : 0,
    mark: i === 0 ? (line.mark ?? null) : null,
    ...(i === 0 && line.level !== undefined
      ? { level: { level: line.level, title: line.text } }
      : {}),
  }));
}

/** Longest run without a blank that is printed in one piece. */
const LONGEST_WORD = 60;

function broken(word: string): string[] {
  return word.length <= LONGEST_WORD ? [word] : (word.match(/.{1,60}/gu) ?? [word]);
}

/** Characters of the built-in fonts (WinAnsi) that stand for ones that they lack. */
const INSTEAD: Readonly<Record<string, string>> = {
  '≥': 'at least ',
  '≤': 'at most ',
  '→': '->',
  '−': '-',
  '\t': ' ',
};

/** Text in the characters of the built-in fonts; what they lack becomes "?". */
export function printable(text: string): string {
  return text
    .replace(/[≥≤→−\t]/g, (c) => INSTEAD[c] ?? '?')
    .replace(/\s+/g, ' ')
    .replace(/[^\u0020-\u007e\u00a0-\u00ff€‚ƒ„…†‡ˆ‰Š‹ŒŽ‘’“”•–—˜™š›œžŸ]/gu, '?');
}
