import type { SoundedWord } from '#shared/listening';
import type { Pronunciations } from '../sound/dictionary.ts';
import type { Ear } from '../sound/ear.ts';
import { phraseWords } from '../tokens.ts';
import { ownerSounds } from './owners.ts';

/** Words of a phrase that is listened for at most: longer ones are said in pieces anyway. */
const LONGEST = 7;

/** A name as a sequence of dictionary words: "push-pull tube" is three, "O.K." two. */
export function spoken(phrase: string): string[] {
  return phrase
    .toLowerCase()
    .replace(/[‘’ʼ]/g, "'")
    .replace(/[^a-z0-9']+/g, ' ')
    .trim()
    .split(' ')
    .filter((w) => w !== '' && !/\d/.test(w));
}

/** Ways in which two words are drawn together in speech; the reader writes them out again. */
const DRAWN: readonly (readonly [RegExp, string])[] = [
  [/^(it|that|there|what|where|here) is\b/, "$1's"],
  [/^they are\b/, "they're"],
  [/^(i|we) have\b/, "$1've"],
  [/^i am\b/, "i'm"],
  [/^we are\b/, "we're"],
  [/^let us\b/, "let's"],
  [/\b(is|are|was|were|has|have|does|do|did) not\b/, "$1n't"],
];

/** The phrase as it is said in a hurry, "what's left" for "what is left"; none where nothing is drawn together. */
export function drawnTogether(phrase: string): string[] {
  for (const [long, short] of DRAWN) {
    const drawn = phrase.replace(long, short);
    // Only what the reader takes apart again means the same.
    if (drawn !== phrase && phraseWords(drawn).join(' ') === phraseWords(phrase).join(' '))
      return [drawn];
  }
  return [];
}

/** Finds out which phrases can be listened for, and notes the words that need sounds of ours. */
export interface Speller {
  sayable(word: string): boolean;
  /** Sounds of a word as they are listened for, by the usual way to say it. */
  sounds(word: string): readonly string[];
  /** Forms whose every word can be listened for, in order, each once. */
  forms(said: readonly string[], most?: number): string[];
  /** Words that the dictionary lacks, and authors' own pronunciations. */
  words(): SoundedWord[];
}

/**
 * @param ear how the reader says words: author, dictionary, parts, letters.
 * @param own the authors' own pronunciations, which are listened for beside the dictionary's.
 */
export function spellerOf(
  dictionary: Pronunciations,
  own: ReadonlyMap<string, readonly string[]>,
  ear: Ear,
): Speller {
  const extra = new Map<string, readonly string[]>();
  const sounds = (word: string): readonly string[] => ear.spoken(word)[0] ?? [];

  function sayable(word: string): boolean {
    const given = own.get(word);
    if (given !== undefined) {
      extra.set(word, given);
      return true;
    }
    if (dictionary.of(word).length > 0 || extra.has(word)) return true;
    const phones = ownerSounds(word, sounds) ?? sounds(word);
    if (phones.length === 0) return false;
    extra.set(word, phones);
    return true;
  }

  return {
    sayable,
    sounds,
    forms(said, most = Infinity) {
      const out = new Set<string>();
      for (const phrase of said) {
        const words = spoken(phrase);
        if (words.length === 0 || words.length > LONGEST || !words.every(sayable)) continue;
        out.add(words.join(' '));
        if (out.size >= most) break;
      }
      return [...out];
    },
    words: () => [...extra].map(([word, phones]) => ({ word, phones })),
  };
}
