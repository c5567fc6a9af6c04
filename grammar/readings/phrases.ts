import type { Inputs } from '../scores/around.ts';

/** Where in an utterance a phrase of a list is said, and where its sentence begins and ends. */

/** The gap before a word that begins a sentence (tokens.ts). */
export const SENTENCE = 2;

/** The first place where one of these phrases is said, and where it ends; null where none is. */
export function phraseIn(
  tokens: readonly { readonly word: string }[],
  phrases: readonly string[],
): { readonly from: number; readonly to: number } | null {
  const words = tokens.map((t) => t.word);
  for (const from of words.keys())
    for (const phrase of phrases) {
      const parts = phrase.split(' ');
      if (parts.every((w, k) => words[from + k] === w)) return { from, to: from + parts.length };
    }
  return null;
}

/** The first and the one past the last word of the sentence that a word stands in. */
export function sentenceOf(
  tokens: readonly Pick<Inputs['tokens'][number], 'gap'>[],
  at: number,
): readonly [number, number] {
  let from = at;
  while (from > 0 && (tokens[from]?.gap ?? 0) < SENTENCE) from -= 1;
  let to = at + 1;
  while (to < tokens.length && (tokens[to]?.gap ?? 0) < SENTENCE) to += 1;
  return [from, to];
}

/** Every place where one of these phrases is said, the longest at each, none in another. */
export function phrasesIn(
  tokens: readonly { readonly word: string }[],
  phrases: readonly string[],
): readonly { readonly from: number; readonly to: number }[] {
  const words = tokens.map((t) => t.word);
  const out: { from: number; to: number }[] = [];
  let from = 0;
  while (from < words.length) {
    const at = from;
    const long = phrases.map((phrase) => {
      const parts = phrase.split(' ');
      return parts.every((w, k) => words[at + k] === w) ? parts.length : 0;
    });
    const most = Math.max(0, ...long);
    if (most > 0) out.push({ from, to: from + most });
    from += Math.max(1, most);
  }
  return out;
}
