import { lexicon } from './lexicon.ts';
import { ARTICLES, stem, type Names } from './names.ts';
import { phraseWords } from './tokens.ts';
import { Trie } from './trie.ts';

let leads: Trie<true> | null = null;
function leadTrie(): Trie<true> {
  if (leads !== null) return leads;
  leads = new Trie();
  for (const phrase of lexicon().dialogue.arrive) leads.add(phraseWords(phrase), true);
  return leads;
}

/** May stand before and behind it. */
const BESIDE = /^(so|and|okay|ok|right|now|then|next|well|um|uh|er|alright|good|great)$/;

/**
 * "On to the skids.": words of going somewhere and a station's whole name, and nothing
 * else, though the name may be a check's as well.
 */
export function arrivedAt(words: readonly string[], names: Names): string | null {
  let from = 0;
  while (BESIDE.test(words[from] ?? '')) from += 1;
  const lead = leadTrie().longest(words, from);
  if (lead === null) return null;
  let to = words.length;
  while (to > lead.to && BESIDE.test(words[to - 1] ?? '')) to -= 1;
  const rest = words.slice(lead.to, to).filter((w) => !ARTICLES.has(w));
  const hit = names.stationTrie.longest(rest.map(stem), 0);
  return hit?.to === rest.length && rest.length > 0 ? hit.item : null;
}
