import type { Pronunciations } from './dictionary.ts';
import { spellOut } from './letters.ts';
import { phoneIndex } from './phones.ts';

/** How words sound: an author's own pronunciation, then the dictionary, then the spelling. */
export interface Ear {
  /** Pronunciations as phone numbers, most usual first, at least one. */
  of(word: string): readonly Uint8Array[];
  /** Pronunciations as ARPABET. */
  spoken(word: string): readonly (readonly string[])[];
}

/** At most so many pronunciations of one word are tried. */
const VARIANTS = 3;

export function earOf(
  dictionary: Pronunciations,
  own: ReadonlyMap<string, readonly string[]>,
): Ear {
  const cache = new Map<string, readonly Uint8Array[]>();
  const spoken = (word: string): readonly (readonly string[])[] => {
    const author = own.get(word);
    const book = dictionary.of(word);
    if (author !== undefined) return [author, ...book].slice(0, VARIANTS);
    if (book.length > 0) return book.slice(0, VARIANTS);
    // A plural or a participle of a known word sounds like it.
    if (word.length > 3 && word.endsWith('s')) {
      const single = dictionary.of(word.slice(0, -1))[0] ?? own.get(word.slice(0, -1));
      if (single !== undefined) {
        const last = single[single.length - 1] ?? '';
        const end = /^(S|Z|SH|CH|JH|ZH)$/.test(last)
          ? ['AH', 'Z']
          : /^(P|T|K|F|TH)$/.test(last)
            ? ['S']
            : ['Z'];
        return [[...single, ...end]];
      }
    }
    const parts = compound(word, dictionary);
    return [parts ?? spellOut(word)];
  };
  return {
    spoken,
    of(word) {
      let found = cache.get(word);
      if (found === undefined) {
        found = spoken(word).map((phones) =>
          Uint8Array.from(phones.map((p) => phoneIndex(p)).filter((p) => p !== undefined)),
        );
        cache.set(word, found);
      }
      return found;
    },
  };
}

/** "swashplate" is "swash" and "plate": two known words of at least four letters, the longest first. */
function compound(word: string, dictionary: Pronunciations): string[] | null {
  if (word.length < 7) return null;
  for (let cut = word.length - 3; cut >= 3; cut -= 1) {
    const head = dictionary.of(word.slice(0, cut))[0];
    const tail = dictionary.of(word.slice(cut))[0];
    if (head !== undefined && tail !== undefined && head.length >= 2 && tail.length >= 2)
      return [...head, ...tail];
  }
  return null;
}
