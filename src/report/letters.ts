import fontkit from '@pdf-lib/fontkit';
import type { PDFDocument, PDFFont } from 'pdf-lib';
import { hasRightToLeft, seenRuns } from './pdf-words.ts';

/** The files (TrueType) of the font that papers are set in. */
export interface Letters {
  readonly plain: Uint8Array;
  readonly bold: Uint8Array;
}

/** One weight of the font in one document. */
export interface Face {
  readonly font: PDFFont;
  has(letter: string): boolean;
  /** How wide text is, pt. */
  wide(text: string, size: number): number;
}

export interface Faces {
  readonly plain: Face;
  readonly bold: Face;
}

/**
 * Embeds the letters that a document uses, and their map back to Unicode, by
 * which it is searched and read aloud (ISO 32000-1, 9.10.3).
 */
export async function facesOf(document: PDFDocument, letters: Letters): Promise<Faces> {
  document.registerFontkit(fontkit);
  return {
    plain: await face(document, letters.plain, 'DejaVuSansCondensed'),
    bold: await face(document, letters.bold, 'DejaVuSansCondensed-Bold'),
  };
}

/** The six letters that the name of an embedded part of a font begins with (ISO 32000-1, 9.6.4): any six. */
const PART = 'TALKRD';

async function face(document: PDFDocument, file: Uint8Array, name: string): Promise<Face> {
  const font = await document.embedFont(file, {
    subset: true,
    customName: `${PART}+${name}`,
    // "fi" stays two letters, so that it is found by whoever searches for them.
    features: { liga: false, dlig: false },
  });
  const known = new Set(font.getCharacterSet());
  /** Widths at 1 pt. Laying out a word takes a millisecond, and a record says the same words often. */
  const widths = new Map<string, number>();
  const wordWide = (word: string): number => {
    const before = widths.get(word);
    if (before !== undefined) return before;
    const runs = hasRightToLeft(word) ? seenRuns(word) : [word];
    const wide = runs.reduce((sum, run) => sum + font.widthOfTextAtSize(run, 1), 0);
    widths.set(word, wide);
    return wide;
  };
  return {
    font,
    has: (letter) => known.has(letter.codePointAt(0) ?? 0),
    wide(text, size) {
      const words = text.split(' ');
      const blanks = (words.length - 1) * wordWide(' ');
      return size * words.reduce((sum, word) => sum + (word === '' ? 0 : wordWide(word)), blanks);
    },
  };
}
