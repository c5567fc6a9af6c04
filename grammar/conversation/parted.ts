import { lexicon } from '../lexicon.ts';
import { saysOneOf } from '../phrasing.ts';
import { phraseWords, type Token } from '../tokens.ts';
import { Trie } from '../trie.ts';

/** The words of a correction: what it is, what it is not, and those that only correct. */

/** More words than this correct nothing, they tell. */
const LONGEST = 12;

interface Known {
  readonly cues: Trie<true>;
  /** Those that say by themselves that something was said wrongly. */
  readonly told: Trie<true>;
  /** Without one of these a name alone is what is looked at next, and corrects nothing. */
  readonly plain: RegExp;
  /** Behind "not" these deny a part (readings/partly.ts), and name nothing that was said wrongly. */
  readonly partly: ReadonlySet<string>;
  readonly beside: ReadonlySet<string>;
}

let known: Known | null = null;
function correcting(): Known {
  if (known !== null) return known;
  const { corrections, dialogue } = lexicon();
  const cues = new Trie<true>();
  for (const phrase of [...dialogue.correct, ...corrections.more])
    cues.add(phraseWords(phrase), true);
  const told = new Trie<true>();
  for (const phrase of [...dialogue.correct, ...dialogue.retract])
    told.add(phraseWords(phrase), true);
  known = {
    cues,
    told,
    plain: saysOneOf(corrections.plain),
    partly: new Set(corrections.partly),
    beside: new Set(corrections.beside),
  };
  return known;
}

export interface Parted {
  /** Tokens that say what it is, and those that say what it is not. */
  readonly is: readonly Token[];
  readonly not: readonly Token[];
  readonly plain: boolean;
}

/** Whether the words say that something was said wrongly: more than a "no" or a "not" alone. */
export function saysCorrecting(tokens: readonly Token[]): boolean {
  const words = tokens.map((x) => x.word);
  const { told } = correcting();
  return words.some((_, i) => told.longest(words, i) !== null);
}

/** What is left without the words of correcting; null where there are none. */
export function partedOf(tokens: readonly Token[]): Parted | null {
  if (tokens.length > LONGEST || tokens.some((x) => x.asks)) return null;
  const words = tokens.map((x) => x.word);
  const { cues, plain, partly, beside } = correcting();
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
    if (token.word === 'not' && partly.has(words[i + 1] ?? '')) return null;
    if (token.word === 'not') {
      cue = true;
      denied = true;
      i += 1;
      continue;
    }
    const hit = cues.longest(words, i);
    // "The right one": its first word may be a cue and is a place here.
    if (hit !== null) {
      cue = true;
      i = hit.to;
      continue;
    }
    if (!beside.has(token.word)) (denied ? not : is).push(token);
    i += 1;
  }
  // "The left one is not": what stands before it is denied, and nothing is put in its place.
  if (denied && not.length === 0) return null;
  return cue && is.length > 0 ? { is, not, plain: plain.test(words.join(' ')) } : null;
}
