import { parseDictionary, type Pronunciations } from '#grammar';
import { dictionaryText } from './files.ts';

let read: Pronunciations | null = null;

/** The dictionary that ships with the embedded recogniser, parsed once. */
export function pronunciations(): Pronunciations {
  read ??= parseDictionary(dictionaryText());
  return read;
}
