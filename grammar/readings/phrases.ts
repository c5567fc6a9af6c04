import type { Inputs } from '../scores/around.ts';
import { Trie } from '../trie.ts';

/** Where in an utterance a phrase of a list is said, and where its sentence begins and ends. */

/** The gap before a word that begins a sentence (tokens.ts). */
export const SENTENCE = 2;

/** Lists are those of the lexicon: each is laid out by its words once and kept as long as the list. */
const laid = new WeakMap<readonly string[], Trie<true>>();

function trieOf(phrases: readonly string[]): Trie<true> {
  let trie = laid.get(phrases);
  if (trie === undefined) {
    trie = new Trie<true>();
    for (const phrase of phrases) trie.add(phrase.split(' '), true);
    laid.set(phrases, trie);
  }
  return trie;
}

/** The first place where one of these phrases is said, the longest there; null where none is. */
export function phraseIn(
  tokens: readonly { readonly word: string }[],
  phrases: readonly string[],
): Place | null {
  const words = tokens.map((t) => t.word);
  const trie = trieOf(phrases);
  for (const from of words.keys()) {
    const hit = trie.longest(words, from);
    if (hit !== null) return { from, to: hit.to };
  }
  return null;
}

interface Place {
  readonly from: number;
  readonly to: number;
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

/** Every place where a phrase of these lists is said, the longest at each, none in another. */
export function phrasesIn(
  tokens: readonly { readonly word: string }[],
  ...lists: readonly (readonly string[])[]
): readonly Place[] {
  const words = tokens.map((t) => t.word);
  const tries = lists.map(trieOf);
  const out: Place[] = [];
  let from = 0;
  while (from < words.length) {
    const at = from;
    const to = Math.max(at, ...tries.map((t) => t.longest(words, at)?.to ?? at));
    if (to > at) out.push({ from: at, to });
    from = Math.max(at + 1, to);
  }
  return out;
}
