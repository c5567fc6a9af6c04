import { readFileSync, statSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { Refusal } from './command.ts';

/** Nothing that is read is larger: a backup is held in memory, sound and text have lower limits of their own. */
const LARGEST_FILE = 700 * 1024 * 1024;

/** An hour of talk is about 0.1 MB, the largest catalogue 2 MB: text of more than this is neither. */
export const LARGEST_TEXT = 16 * 1024 * 1024;

/** Refuses what is too large to be what it is said to be. @throws Refusal with one sentence. */
export function notLarger(file: string, size: number, largest: number): void {
  if (size <= largest) return;
  throw new Refusal(`${file} is larger than ${largest / 1024 / 1024} MB; give a shorter file.`);
}

/** The bytes of a file. @throws Refusal with one sentence. */
export function bytesOf(file: string, largest = LARGEST_FILE): Uint8Array {
  try {
    notLarger(file, statSync(file).size, largest);
    // As it is: a copy would take the room a second time.
    const { buffer, byteOffset, byteLength } = readFileSync(file);
    return new Uint8Array(buffer, byteOffset, byteLength);
  } catch (error) {
    if (error instanceof Refusal) throw error;
    throw new Refusal(sentenceFor(file, (error as NodeJS.ErrnoException).code));
  }
}

/** The text of a UTF-8 file. @throws Refusal with one sentence. */
export function textOf(file: string): string {
  return new TextDecoder().decode(bytesOf(file, LARGEST_TEXT));
}

function sentenceFor(file: string, code: string | undefined): string {
  if (code === 'ENOENT') return `There is no file ${file}.`;
  if (code === 'EISDIR') return `${file} is a folder; give a file.`;
  if (code === 'EACCES') return `${file} may not be read by you.`;
  return `${file} cannot be read (${code ?? 'unknown reason'}).`;
}

/** Folder of the model that ships with the embedded recogniser. */
export function modelFolder(): string {
  return join(dirname(createRequire(import.meta.url).resolve('soundswallower')), 'model');
}

/** The pronouncing dictionary that ships with the embedded recogniser, as text. */
export function dictionaryText(): string {
  return readFileSync(join(modelFolder(), 'en-us', 'dict.txt'), 'utf8');
}
