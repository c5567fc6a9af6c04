import { inflateSync } from 'node:zlib';

/** Where the encoding of the built-in fonts (WinAnsi) is not Latin-1: some versions of Node decode it as if it were. */
const OTHER: Readonly<Record<number, string>> = {
  0x85: '…',
  0x91: '‘',
  0x92: '’',
  0x93: '“',
  0x94: '”',
  0x96: '–',
  0x97: '—',
};

const winAnsi = (bytes: Buffer) =>
  [...bytes].map((b) => OTHER[b] ?? String.fromCharCode(b)).join('');

/**
 * The words of each page of a PDF as this project writes it (one content stream
 * a page, built-in fonts, text as hexadecimal strings), so that a test does not
 * depend on a program that may not be installed.
 */
export function pagesOf(pdf: Uint8Array): string[] {
  const file = Buffer.from(pdf);
  const pages: string[] = [];
  for (let at = 0; ;) {
    const begin = file.indexOf('stream', at, 'latin1');
    const end = file.indexOf('endstream', begin, 'latin1');
    if (begin < 0 || end < 0) return pages;
    at = end + 'endstream'.length;
    const from = begin + 'stream'.length + (file[begin + 6] === 13 ? 2 : 1);
    const text = inflated(file.subarray(from, end));
    const said = [...text.matchAll(/<([0-9A-F]*)> Tj/gi)].map((m) =>
      winAnsi(Buffer.from(m[1] ?? '', 'hex')),
    );
    if (said.length > 0) pages.push(said.join('\n'));
  }
}

/** Streams that are not compressed are no text of ours. */
function inflated(bytes: Buffer): string {
  try {
    return inflateSync(bytes).toString('latin1');
  } catch {
    return '';
  }
}
