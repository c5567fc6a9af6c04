import { lexicon } from '../lexicon.ts';
import { phraseWords, type Token } from '../tokens.ts';
import { Trie } from '../trie.ts';

/** The words of a correction: what it is, what it is not, and those that only correct. */

/** More words than this correct nothing, they tell. */
const LONGEST = 12;

/** Words of correcting that the lexicon has not. */
const MORE = [
  'that was',
  'it was',
  'make it',
  'should be',
  'should have been',
  'i meant the',
  'meant',
  'instead',
  'change it to',
  'read that as',
  'no',
  'not',
  'oh',
  'wrong one',
  'the wrong one',
];
/** Without one of these a name alone is what is looked at next, and corrects nothing. */
const PLAIN =
  /\b(not|mean|meant|correction|that was|it was|make that|make it|should be|should have been|misspoke|instead)\b/;
/** Behind "not" these deny a part (readings/partly.ts), and name nothing that was said wrongly. */
const PARTLY = /^(all|every|everything|each|both|quite|entirely|completely|fully|really)$/;
const BESIDE =
  /^(the|a|an|is|it|its|that|this|was|be|one|ones|side|hand|um|uh|er|well|so|but|and|at|on|of|to|please|sorry|wait|oh|number|there|i|of|course)$/;

let cues: Trie<true> | null = null;
function cueTrie(): Trie<true> {
  if (cues !== null) return cues;
  cues = new Trie();
  for (const phrase of [...lexicon().dialogue.correct, ...MORE])
    cues.add(phraseWords(phrase), true);
  return cues;
}

export interface Parted {
  /** Tokens that say what it is, and those that say what it is not. */
  readonly is: readonly Token[];
  readonly not: readonly Token[];
  readonly plain: boolean;
}

/** What is left without the words of correcting; null where there are none. */
export function partedOf(tokens: readonly Token[]): Parted | null {
  if (tokens.length > LONGEST || tokens.some((x) => x.asks)) return null;
  const words = tokens.map((x) => x.word);
  const is: Token[] = [];
  const not: Token[] = [];
  let cue = false;
  let denied = false;
  for (let i = 0; i < tokens.length;) {
    const token = tokens[i] as Token;
    // What is denied goes to the next pause, "but" or "it is".
    if (denied && (token.gap > 0 || /^(but|its|it)$/.test(token.word)) && not.length > 0)
      denied = false;
    // "Not everything is okay" takes nothing back.
    if (token.word === 'not' && PARTLY.test(words[i + 1] ?? '')) return null;
    if (token.word === 'not') {
      cue = true;
      denied = true;
      i += 1;
      continue;
    }
    const hit = cueTrie().longest(words, i);
    // "The right one": its first word may be a cue and is a place here.
    if (hit !== null) {
      cue = true;
      i = hit.to;
      continue;
    }
    if (!BESIDE.test(token.word)) (denied ? not : is).push(token);
    i += 1;
  }
  return cue && is.length > 0 ? { is, not, plain: PLAIN.test(words.join(' ')) } : null;
}
