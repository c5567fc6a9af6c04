import { phraseWords, type Token } from '../tokens.ts';
import { Trie } from '../trie.ts';

/** A correction within one breath: "five, no, six quarts", "left, sorry, right". */

const CUES = [
  'no',
  'no no',
  'no sorry',
  'no wait',
  'no i mean',
  'no make that',
  'sorry',
  'sorry no',
  'sorry i mean',
  'wait',
  'wait no',
  'correction',
  'i mean',
  'i meant',
  'make that',
  'make it',
  'rather',
  'or rather',
  'should be',
  'should say',
  'actually no',
];
/** What makes one expression with a "no" before it. */
const GROWN = /^(longer|more|good|go|use|better|further|way|idea|doubt|matter|problem|worries)$/;
/** More words than this behind the cue tell something of their own. */
const LONGEST = 7;

let cues: Trie<true> | null = null;
function cueTrie(): Trie<true> {
  if (cues !== null) return cues;
  cues = new Trie();
  for (const phrase of CUES) cues.add(phraseWords(phrase), true);
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
  let found: { from: number; to: number; plainly: boolean } | null = null;
  for (let i = 1; i < words.length; i += 1) {
    const hit = cueTrie().longest(words, i);
    if (hit === null) continue;
    if (hit.to < words.length && words.length - hit.to <= LONGEST) {
      const pause = (tokens[hit.to]?.gap ?? 0) > 0;
      // "No longer latches": of one piece with what follows.
      if (!pause && words[hit.to - 1] === 'no' && GROWN.test(words[hit.to] ?? '')) continue;
      found = { from: i, to: hit.to, plainly: pause || words[hit.to - 1] !== 'no' };
    }
    i = hit.to - 1;
  }
  return found;
}
