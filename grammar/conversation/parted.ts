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
  /** Behind these stands what it is not. */
  readonly denying: Trie<true>;
  /** Of two the one that was not said. */
  readonly other: Trie<'other' | 'wrong'>;
  readonly points: Trie<true>;
}

let known: Known | null = null;
function correcting(): Known {
  if (known !== null) return known;
  const { corrections, dialogue } = lexicon();
  const cues = new Trie<true>();
  // "Strike that, the main rotor": taken back, and put right in the same breath.
  const taking = dialogue.retract.filter((phrase) => !phrase.endsWith(' about'));
  for (const phrase of [...dialogue.correct, ...corrections.more, ...taking])
    cues.add(phraseWords(phrase), true);
  const told = new Trie<true>();
  for (const phrase of [...dialogue.correct, ...dialogue.retract])
    told.add(phraseWords(phrase), true);
  const denying = trieOf(corrections.denying, true as const);
  const points = trieOf(corrections.points, true as const);
  const other = new Trie<'other' | 'wrong'>();
  for (const kind of ['other', 'wrong'] as const)
    for (const phrase of corrections[kind]) other.add(phraseWords(phrase), kind);
  known = {
    cues,
    told,
    plain: saysOneOf(corrections.plain),
    partly: new Set(corrections.partly),
    beside: new Set(corrections.beside),
    denying,
    other,
    points,
  };
  return known;
}

function trieOf<T>(phrases: readonly string[], item: T): Trie<T> {
  const made = new Trie<T>();
  for (const phrase of phrases) made.add(phraseWords(phrase), item);
  return made;
}

export interface Parted {
  /** Tokens that say what it is, and those that say what it is not. */
  readonly is: readonly Token[];
  readonly not: readonly Token[];
  /** They say outright that something was said wrongly, so that a name alone is what was meant. */
  readonly plain: boolean;
  /** "Sorry, that's the lower bearing": they point at what was meant. */
  readonly points: boolean;
  /** "Wrong side", "no, the other one": of two the one that was not said. */
  readonly other: boolean;
  /** "Strike that, the drain": what was said is taken back, and may have nothing in its place. */
  readonly takes: boolean;
  /** "It's the rear one": they only point, and correct a place at most. */
  readonly bare: boolean;
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
  const known = correcting();
  const is: Token[] = [];
  const not: Token[] = [];
  let [cue, denied, other, takes, pointed, bare] = [false, false, false, false, false, false];
  for (let i = 0; i < tokens.length;) {
    const token = tokens[i] as Token;
    // What is denied goes to the next pause, "but" or "it is".
    if (denied && (token.gap > 0 || /^(but|its|it)$/.test(token.word)) && not.length > 0)
      denied = false;
    // "Not everything is okay" takes nothing back.
    if (token.word === 'not' && known.partly.has(words[i + 1] ?? '')) return null;
    const denies = known.denying.longest(words, i);
    if (denies !== null) {
      bare = false;
      cue = true;
      denied = true;
      i = denies.to;
      continue;
    }
    const flips = known.other.longest(words, i);
    if (flips !== null && !denied) {
      cue ||= flips.item === 'wrong';
      bare &&= flips.item !== 'wrong';
      other = true;
      i = flips.to;
      continue;
    }
    const points = known.points.longest(words, i);
    if (points !== null && (cue || i === 0)) {
      bare ||= !cue;
      cue = true;
      pointed = true;
    }
    const hit = known.cues.longest(words, i);
    // "Scratch that. Left strut." takes back and goes on.
    if (hit !== null && isEnded(words.slice(i, hit.to), tokens[hit.to])) return null;
    // "The right one": its first word may be a cue and is a place here.
    if (hit !== null) {
      bare = false;
      cue = true;
      takes ||= retracting().has(words.slice(i, hit.to).join(' '));
      if (not.length > 0) denied = false;
      i = hit.to;
      continue;
    }
    if (!known.beside.has(token.word)) (denied ? not : is).push(token);
    i += 1;
  }
  // "The left one is not": what stands before it is denied, and nothing is put in its place.
  if (denied && not.length === 0) return null;
  if (!cue || (is.length === 0 && !other)) return null;
  return { is, not, plain: known.plain.test(words.join(' ')), points: pointed, other, takes, bare };
}

/** What was said is taken back in a sentence of its own. */
const isEnded = (words: readonly string[], next: Token | undefined): boolean =>
  retracting().has(words.join(' ')) && (next === undefined || next.gap === 2);

let taking: ReadonlySet<string> | null = null;
function retracting(): ReadonlySet<string> {
  taking ??= new Set(lexicon().dialogue.retract.map((p) => phraseWords(p).join(' ')));
  return taking;
}
