import { PDFDocument, type PDFPage } from 'pdf-lib';
import { inWords, type Figure } from './figure.ts';
import { facesOf, type Face, type Letters } from './letters.ts';
import { drawFigure, drawMark, drawWords, INK, PALE } from './pdf-draw.ts';
import { outline, type Mark } from './pdf-outline.ts';
import { tagsOf, type Tag } from './pdf-tags.ts';
import { named, printable } from './pdf-words.ts';
import { cut, heightOf, LEADING, MARK, wrapped, type Laid, type Line } from './pdf-wrap.ts';

export type { Line } from './pdf-wrap.ts';

export type PaperSize = 'a4' | 'letter';

/** What a paper is printed on, and in which letters. */
export interface Print {
  readonly size: PaperSize;
  readonly letters: Letters;
}

/** Points of 1/72 inch. ISO 216 A4 and ANSI Letter. */
const SIZES: Readonly<Record<PaperSize, readonly [number, number]>> = {
  a4: [595.28, 841.89],
  letter: [612, 792],
};
const MARGIN = 48;
const FOOT = 30;

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

/** @param head repeated at the top of every page, with "page n of m" beside it. */
export async function pdfFlow(head: string, { size, letters }: Print): Promise<Flow> {
  const document = await PDFDocument.create();
  document.setTitle(printable(head), { showInWindowTitleBar: true });
  document.setLanguage('en');
  document.setProducer('Talkround');
  const faces = await facesOf(document, letters);
  const tags = tagsOf(document);
  const [width, height] = SIZES[size];
  const wide = width - 2 * MARGIN;
  const pages: PDFPage[] = [];
  const headings: Mark[] = [];
  let page = next();
  let y = top();
  let over: string | null = null;
  /** The list, and the body of its last item, that the next line may belong to. */
  let list: Tag | null = null;
  let item: Tag | null = null;

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
    const text = fitting(`${over}, continued`, faces.bold, CONTINUED, wide);
    const place = { x: MARGIN, y, size: CONTINUED, face: faces.bold, color: INK };
    // Whoever hears the document goes on in the station and turns no page.
    tags.artifact(page, 'Pagination', () => drawWords(page, text, place));
    y -= CONTINUED / 2;
  }

  /** The place of a line in the structure: a mark begins an item of a list, what is set in goes on with it. */
  function tagFor({ line, actual }: Laid): Tag {
    const spoken = actual === null ? {} : { actual };
    if (line.mark !== undefined) {
      list ??= tags.under(tags.root, 'L');
      item = tags.under(tags.under(list, 'LI'), 'LBody');
    } else if (line.level !== undefined || (line.indent ?? 0) === 0) list = item = null;
    return line.level === undefined
      ? tags.under(item ?? tags.root, 'P', spoken)
      : tags.under(tags.root, `H${line.level}`, spoken);
  }

  function draw(laid: readonly Laid[], tagOf: (l: Laid) => Tag = tagFor): void {
    for (const one of laid) {
      const { line, face, size: high, indent } = one;
      const tag = tagOf(one);
      one.rows.forEach((row, i) => {
        const above = i === 0 ? one.above : 0;
        if (y - above - high * LEADING < MARGIN + FOOT) turn();
        y -= above + high * LEADING;
        if (i === 0 && line.level !== undefined)
          headings.push({ title: line.text, level: line.level, page, top: y + high * LEADING });
        const color = line.pale === true ? PALE : INK;
        const [x, mark] = [MARGIN + indent, line.mark];
        if (i === 0 && mark !== undefined)
          tags.artifact(page, 'Layout', () => drawMark(page, mark, x - MARK, y, high));
        tags.mark(page, tag, () => drawWords(page, row, { x, y, size: high, face, color }));
      });
    }
  }

  /** A drawing or a picture with its words under it; where it has alternative words, these are read in place of both. */
  function illustrated(
    high: number,
    alt: string,
    caption: string,
    drawAt: (upper: number) => void,
    across: number,
  ): void {
    const words = wrapped({ text: caption, size: 8, pale: true }, faces, wide);
    const needs = high + PICTURE_ROOM;
    if (y - needs - heightOf([words]) < MARGIN + FOOT) turn();
    const upper = y - PICTURE_ROOM;
    y -= needs;
    const box = [MARGIN, y, MARGIN + across, upper] as const;
    const tag = tags.under(item ?? tags.root, 'Figure', { alt, box });
    tags.mark(page, tag, () => drawAt(upper));
    draw([words], () => tags.under(tag, 'Caption'));
  }

  return {
    block(lines, ruled = false) {
      const laid = lines.map((line) => wrapped(line, faces, wide));
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
      const line = {
        start: { x: MARGIN, y },
        end: { x: MARGIN + wide * 0.6, y },
        thickness: 0.6,
        color: INK,
      };
      tags.artifact(page, 'Layout', () => page.drawLine(line));
      y -= 11;
      const place = { x: MARGIN, y, size: 8, face: faces.plain, color: PALE };
      const text = fitting(label, faces.plain, 8, wide);
      list = item = null;
      tags.mark(page, tags.under(tags.root, 'P'), () => drawWords(page, text, place));
    },
    async picture(jpeg, caption) {
      const image = await document.embedJpg(jpeg).catch(() => null);
      if (image === null) return false;
      const fits = image.scaleToFit(Math.min(PICTURE_WIDE, wide), PICTURE_HIGH);
      const at = (upper: number) => ({ ...fits, x: MARGIN, y: upper - fits.height });
      illustrated(
        fits.height,
        `Picture: ${caption}`,
        caption,
        (upper) => page.drawImage(image, at(upper)),
        fits.width,
      );
      return true;
    },
    figure(figure) {
      const scale = wide / figure.width;
      list = item = null;
      illustrated(
        figure.height * scale,
        inWords(figure),
        figure.told,
        (upper) => drawFigure(page, figure, { x: MARGIN, y: upper, scale, faces }),
        wide,
      );
    },
    async bytes() {
      pages.forEach((p, i) => {
        const number = `page ${i + 1} of ${pages.length}`;
        const right = width - MARGIN - faces.plain.wide(number, 8);
        const at = { y: height - MARGIN, size: 8, face: faces.plain, color: PALE };
        const text = fitting(head, faces.plain, 8, right - 2 * MARGIN);
        tags.artifact(p, 'Pagination', () => {
          drawWords(p, text, { x: MARGIN, ...at });
          drawWords(p, number, { x: right, ...at });
        });
      });
      outline(document, headings);
      tags.write();
      const saved = await document.save();
      return new Uint8Array(saved);
    },
  };

  function fitting(text: string, face: Face, high: number, room: number): string {
    return cut(named(printable(text), face.has), face, high, room);
  }
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
