import { lexicon } from '../lexicon.ts';
import { phraseWords, type Token } from '../tokens.ts';
import { Trie } from '../trie.ts';

/** A correction within one breath: "five, no, six quarts", "left, sorry, right". */

/** More words than this behind the cue tell something of their own. */
const LONGEST = 7;

let cues: { readonly of: Trie<true>; readonly grown: ReadonlySet<string> } | null = null;
/** Words of correcting, and what makes one expression with a "no" before it. */
function correcting(): { readonly of: Trie<true>; readonly grown: ReadonlySet<string> } {
  if (cues !== null) return cues;
  const { breath, grown } = lexicon().corrections;
  const of = new Trie<true>();
  for (const phrase of breath) of.add(phraseWords(phrase), true);
  cues = { of, grown: new Set(grown) };
  return cues;
}

/**
 * Where the last words of correcting begin and end, with something before and behind them; null
 * where none do. `plainly`: they are not a "no" that denies what is behind it ("no cracks").
 */
export function correctsFrom(
  tokens: readonly Token[],
): { from: number; to: number; plainly: boolean } | null {
  const words = tokens.map((t) => t.word);
  const { of, grown } = correcting();
  let found: { from: number; to: number; plainly: boolean } | null = null;
  for (let i = 1; i < words.length; i += 1) {
    const hit = of.longest(words, i);
    if (hit === null) continue;
    if (hit.to < words.length && words.length - hit.to <= LONGEST) {
      const pause = (tokens[hit.to]?.gap ?? 0) > 0;
      // "No longer latches": of one piece with what follows.
      if (!pause && words[hit.to - 1] === 'no' && grown.has(words[hit.to] ?? '')) continue;
      found = { from: i, to: hit.to, plainly: pause || words[hit.to - 1] !== 'no' };
    }
    i = hit.to - 1;
  }
  return found;
}
