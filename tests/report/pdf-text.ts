import {
  decodePDFRawStream,
  PDFArray,
  PDFDict,
  PDFDocument,
  PDFName,
  PDFNumber,
  PDFRawStream,
  type PDFObject,
  type PDFPage,
} from 'pdf-lib';

/** What a page draws, one operator of text at a time. */
export interface Drawn {
  readonly text: string;
  /** The marked sequences that it stands in, outermost first: a number of the page's, or what an artifact is. */
  readonly within: readonly (number | 'Pagination' | 'Layout')[];
}

const name = (text: string) => PDFName.of(text);

/**
 * The words of each page of a PDF as this project writes it, read back through
 * the maps to Unicode that its fonts carry, so that a test does not depend on a
 * program that may not be installed.
 */
export async function pagesOf(pdf: Uint8Array): Promise<string[]> {
  const document = await PDFDocument.load(pdf);
  return document.getPages().map((page) =>
    drawnOn(page)
      .map((d) => d.text)
      .join('\n'),
  );
}

export function drawnOn(page: PDFPage): Drawn[] {
  const fonts = fontsOf(page);
  const out: Drawn[] = [];
  const within: Drawn['within'][number][] = [];
  let font = new Map<string, string>();
  const operators =
    /\/\w+ <<\/(?:MCID (\d+)|Type \/(\w+))>> BDC|\b(EMC)\b|\/(\S+) [\d.]+ Tf|<([0-9A-Fa-f]*)> Tj/g;
  for (const [, id, artifact, closes, key, hex] of contentOf(page).matchAll(operators)) {
    if (id !== undefined) within.push(Number(id));
    else if (artifact === 'Pagination' || artifact === 'Layout') within.push(artifact);
    else if (closes !== undefined) within.pop();
    else if (key !== undefined) font = fonts.get(key) ?? new Map<string, string>();
    else if (hex !== undefined) {
      const codes = hex.toLowerCase().match(/.{4}/g) ?? [];
      out.push({ text: codes.map((c) => font.get(c) ?? '\ufffd').join(''), within: [...within] });
    }
  }
  if (within.length > 0) throw new Error('A marked sequence does not end.');
  return out;
}

function contentOf(page: PDFPage): string {
  const contents = page.node.Contents();
  const streams = contents instanceof PDFArray ? contents.asArray() : [contents];
  return streams.map((s) => textIn(page, s)).join('\n');
}

function textIn(page: PDFPage, object: PDFObject | undefined): string {
  const stream = page.doc.context.lookup(object);
  if (!(stream instanceof PDFRawStream)) throw new Error('No stream.');
  return Buffer.from(decodePDFRawStream(stream).decode()).toString('latin1');
}

/** For each font of a page, its codes in hexadecimal, to letters. */
function fontsOf(page: PDFPage): Map<string, Map<string, string>> {
  const fonts = page.node.Resources()?.lookupMaybe(name('Font'), PDFDict);
  return new Map(
    (fonts?.keys() ?? []).map((key) => {
      const map = textIn(page, fonts?.lookup(key, PDFDict).get(name('ToUnicode')));
      const pairs = [...map.matchAll(/^<([0-9a-fA-F]{4})> <([0-9a-fA-F]+)>$/gm)];
      return [
        key.asString().slice(1),
        new Map(pairs.map((m) => [(m[1] ?? '').toLowerCase(), lettersOf(m[2] ?? '')])),
      ];
    }),
  );
}

const lettersOf = (hex: string) =>
  (hex.match(/.{4}/g) ?? []).map((c) => String.fromCharCode(parseInt(c, 16))).join('');

/** An element of the structure of a tagged PDF, or a marked sequence of a page of it. */
export interface Tagged {
  readonly kind: string;
  readonly alt: string | null;
  readonly actual: string | null;
  readonly children: readonly (Tagged | { readonly page: number; readonly id: number })[];
}

/** The structure as its tree holds it (ISO 32000-1, 14.7.2). */
export function structureOf(document: PDFDocument): Tagged[] {
  const { context, catalog } = document;
  const pages = document.getPages().map((p) => p.ref);
  const said = (dict: PDFDict, key: string) => {
    const value = dict.lookup(name(key));
    return value !== undefined && 'decodeText' in value
      ? (value as { decodeText(): string }).decodeText()
      : null;
  };
  const read = (dict: PDFDict): Tagged => ({
    kind: dict.lookup(name('S'), PDFName).asString().slice(1),
    alt: said(dict, 'Alt'),
    actual: said(dict, 'ActualText'),
    children: dict
      .lookup(name('K'), PDFArray)
      .asArray()
      .map((child) => {
        const at = context.lookup(child, PDFDict);
        if (at.lookupMaybe(name('Type'), PDFName) !== name('MCR')) return read(at);
        const page = pages.findIndex((ref) => ref === at.get(name('Pg')));
        return { page, id: at.lookup(name('MCID'), PDFNumber).asNumber() };
      }),
  });
  const tree = catalog.lookup(name('StructTreeRoot'), PDFDict);
  return tree
    .lookup(name('K'), PDFArray)
    .asArray()
    .map((top) => read(context.lookup(top, PDFDict)));
}
