import { readFileSync } from 'node:fs';
import type { Letters } from '#report';
import { LETTER_FILES } from '../src/wire/letters.ts';

const read = (name: string) =>
  new Uint8Array(readFileSync(`node_modules/dejavu-fonts-ttf/ttf/${name}`));

let loaded: Letters | null = null;

/** The letters of papers, from where they are installed. */
export function testLetters(): Letters {
  loaded ??= { plain: read(LETTER_FILES.plain), bold: read(LETTER_FILES.bold) };
  return loaded;
}
