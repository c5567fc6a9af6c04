import type { Catalogue } from '#shared/catalogue';
import { phraseWords } from '../tokens.ts';

/** The author's own pronunciations, by word. */
export function ownPronunciations(catalogue: Catalogue): Map<string, readonly string[]> {
  const own = new Map<string, readonly string[]>();
  for (const station of catalogue.stations) {
    for (const check of station.checks) {
      for (const [word, phones] of Object.entries(check.pronounce)) {
        const list = phones.trim().toUpperCase().replace(/\d/g, '').split(/\s+/);
        for (const w of phraseWords(word)) own.set(w, list);
      }
    }
  }
  return own;
}
