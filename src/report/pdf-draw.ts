import {
  beginText,
  endText,
  moveText,
  rgb,
  setFillingColor,
  setFontAndSize,
  showText,
  type PDFName,
  type PDFPage,
} from 'pdf-lib';
import type { Figure } from './figure.ts';
import type { Face, Faces } from './letters.ts';
import type { Line } from './pdf-wrap.ts';
import { hasRightToLeft, named, printable, seenRuns } from './pdf-words.ts';

/* What stands on a page: words, the marks of checks, drawings. */

export const INK = rgb(0.08, 0.08, 0.1);
export const PAPER = rgb(1, 1, 1);
export const PALE = rgb(0.42, 0.42, 0.46);

/** The name of each weight on each page; the library's own call gives it a new one for every line. */
const names = new WeakMap<PDFPage, Map<Face, PDFName>>();

function nameOn(page: PDFPage, face: Face): PDFName {
  const here = names.get(page) ?? new Map<Face, PDFName>();
  names.set(page, here);
  const known = here.get(face) ?? page.node.newFontDictionary('F', face.font.ref);
  here.set(face, known);
  return known;
}

export interface Place {
  readonly x: number;
  readonly y: number;
  readonly size: number;
  readonly face: Face;
  readonly color: typeof INK;
}

/** One line of words whose letters the font has. */
export function drawWords(page: PDFPage, text: string, place: Place): void {
  const { face, size, y, color } = place;
  const key = nameOn(page, face);
  let x = place.x;
  for (const run of hasRightToLeft(text) ? seenRuns(text) : [text]) {
    page.pushOperators(
      beginText(),
      setFillingColor(color),
      setFontAndSize(key, size),
      moveText(x, y),
      showText(face.font.encodeText(run)),
      endText(),
    );
    x += face.font.widthOfTextAtSize(run, size);
  }
}

/**
 * The marks of the screens: a disc filled as far as a check was spoken for, a
 * diamond for a question, a cross for a skipped one, a bar for one set aside, a
 * triangle for a finding. Told apart by shape on any printer.
 */
export function drawMark(
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

export function drawFigure(
  page: PDFPage,
  { items }: Figure,
  at: { readonly x: number; readonly y: number; readonly scale: number; readonly faces: Faces },
): void {
  const place = ([x, y]: readonly [number, number]) => ({
    x: at.x + x * at.scale,
    y: at.y - y * at.scale,
  });
  const ink = { borderColor: INK, borderWidth: 0.8 };
  const drawText = (text: string, face: Face, point: { x: number; y: number }, size: number) =>
    drawWords(page, named(printable(text), face.has), { ...point, size, face, color: INK });
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
        drawText(item.text, item.bold ? at.faces.bold : at.faces.plain, place(item.at), item.size);
    }
}
