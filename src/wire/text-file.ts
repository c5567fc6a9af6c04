import type { Outcome } from '#screens';
import { bad, good } from './outcome.ts';

/**
 * The largest file of text that is read: a catalogue, a transcript, a list of
 * answers. An hour of talk is about 0.1 MB, the largest catalogue 2 MB. A larger
 * one is no such thing, and reading it could take the memory that a walk in
 * progress needs; too small a limit refuses an honest file, in words.
 */
export const LARGEST_TEXT_MB = 16;

/** A file somebody gave us, by its size before any of it is read. */
export function notTooLarge(file: Pick<File, 'name' | 'size'>): Outcome {
  return file.size <= LARGEST_TEXT_MB * 1024 * 1024
    ? good(null)
    : bad(
        `${file.name} has ${Math.ceil(file.size / 1024 / 1024)} MB of text; Talkround reads at most ${LARGEST_TEXT_MB} MB. Give the catalogue, transcript or list by itself.`,
      );
}
