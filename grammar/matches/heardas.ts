import type { Catalogue } from '#shared/catalogue';
import { isPlural, SIDE_WORDS, stem } from '../names.ts';
import { crosses, senseTrie, type Sense } from './phrases.ts';
import { lexicon } from '../lexicon.ts';
import { denialOf } from '../scope.ts';
import { phraseWords, type Token } from '../tokens.ts';
import { Trie } from '../trie.ts';
import { unitTrie } from '../units.ts';

/** A condition that may be meant at these words. */
export interface ConditionMatch {
  readonly from: number;
  readonly to: number;
  /** Id in the lexicon. */
  readonly id: string;
  readonly weak: boolean;
  /** Only where the check has an aspect for it. */
  readonly either: boolean;
  /** A sign of the catalogue, and the checks where it can be found; null for a word of the lexicon. */
  readonly sign: string | null;
  readonly checks: readonly string[] | null;
  /** Denials that reach it, by the scope of the words alone. */
  readonly denials: number;
}

/** What the words say about places, by token. */
export interface PlaceWords {
  /** Side or place stem at a token, or null. */
  readonly sides: readonly (string | null)[];
  /** 0 first, 1 second …; -1 last; null none. */
  readonly orders: readonly (number | null)[];
  readonly all: readonly boolean[];
  readonly other: readonly boolean[];
  /** A count that says how many all are: "all four" is no place four. */
  readonly ofAll: readonly boolean[];
  readonly plural: readonly boolean[];
  /** A number said as a word or figure, 1 to 12. */
  readonly counts: readonly (number | null)[];
}

type Mark = { kind: 'order'; n: number } | { kind: 'all' | 'other' };

/** The condition words of a catalogue and the lexicon. */
export class Signs {
  private readonly trie: Trie<Sense>;

  constructor(catalogue: Catalogue) {
    this.trie = senseTrie(catalogue);
  }

  /** Every condition that may be there, the longest phrase for each id at each place. */
  conditionsIn(tokens: readonly Token[]): ConditionMatch[] {
    const words = tokens.map((t) => t.word);
    const breaks = tokens.flatMap((t, i) => (t.gap === 2 ? [i] : []));
    const out = new Map<string, ConditionMatch>();
    const praise = words.flatMap((_, i) =>
      this.trie.at(words, i).filter(({ item, from, to }) => isPraise(item) && to - from > 1),
    );
    for (let i = 0; i < words.length; i += 1) {
      for (const hit of this.trie.at(words, i)) {
        const sense = hit.item;
        if (sense.kind !== 'condition' || crosses(tokens, hit.from, hit.to)) continue;
        const denials = denialOf(words, { from: hit.from, to: hit.to }, breaks).count;
        // "In good nick", "top notch", "up to scratch": no nick, no notch and no scratch.
        const within = (p: { from: number; to: number }): boolean =>
          p.from <= hit.from && hit.to <= p.to && hit.to - hit.from < p.to - p.from;
        if (denials === 0 && praise.some(within)) continue;
        const key = `${String(i)} ${sense.id} ${sense.sign ?? ''}`;
        out.set(key, {
          from: hit.from,
          to: hit.to,
          id: sense.id,
          weak: sense.weak,
          either: sense.either !== undefined,
          sign: sense.sign,
          checks: sense.checks,
          denials,
        });
      }
    }
    // "Hairline crack" holds "crack": one condition, said once.
    return [...out.values()].filter(
      (m) =>
        ![...out.values()].some(
          (o) =>
            o !== m &&
            o.id === m.id &&
            o.from <= m.from &&
            m.to <= o.to &&
            o.to - o.from > m.to - m.from,
        ),
    );
  }

  /** Kinds of aspect that the verdict words at hand speak for, such as "leaks" of "dry", and where. */
  kindsIn(tokens: readonly Token[]): { kind: string; from: number; to: number }[] {
    const words = tokens.map((t) => t.word);
    const out: { kind: string; from: number; to: number }[] = [];
    for (let i = 0; i < words.length; i += 1)
      for (const { item, from, to } of this.trie.at(words, i)) {
        if (item.kind !== 'verdict') continue;
        const kind = verdictKinds().get(item.id);
        if (kind !== undefined) out.push({ kind, from, to });
      }
    return out;
  }
}

/** A verdict that says good in general. */
const isPraise = (sense: Sense): boolean =>
  sense.kind === 'verdict' && sense.id === GENERAL && !verdictKinds().has(sense.id);
/** Its id in the lexicon. */
const GENERAL = 'good';

let byVerdict: ReadonlyMap<string, string> | null = null;
function verdictKinds(): ReadonlyMap<string, string> {
  byVerdict ??= new Map(
    lexicon().verdicts.flatMap((v) => (v.aspect === undefined ? [] : [[v.id, v.aspect] as const])),
  );
  return byVerdict;
}

let marks: Trie<Mark> | null = null;
function markTrie(): Trie<Mark> {
  if (marks !== null) return marks;
  marks = new Trie();
  const { sides } = lexicon();
  sides.ordinals.forEach((say, n) => {
    for (const phrase of say) marks?.add(phraseWords(phrase), { kind: 'order', n });
  });
  for (const phrase of sides.last) marks.add(phraseWords(phrase), { kind: 'order', n: -1 });
  for (const kind of ['all', 'other'] as const)
    for (const phrase of sides[kind]) marks.add(phraseWords(phrase), { kind });
  return marks;
}

let counts: ReadonlyMap<string, number> | null = null;
function countWords(): ReadonlyMap<string, number> {
  if (counts !== null) return counts;
  const { numbers } = lexicon();
  const made = new Map<string, number>();
  Object.values(numbers.digits).forEach((say, value) => {
    for (const word of say) made.set(word, value);
  });
  for (let n = 1; n <= MOST_COUNT; n += 1) made.set(String(n), n);
  numbers.teens.slice(0, 3).forEach((word, i) => made.set(word, 10 + i));
  counts = made;
  return made;
}
/** No aircraft has more of one thing that are counted aloud. */
const MOST_COUNT = 12;

/** The words about places in an utterance. */
export function placeWordsOf(tokens: readonly Token[]): PlaceWords {
  const words = tokens.map((t) => t.word);
  const orders: (number | null)[] = words.map(() => null);
  const all: boolean[] = words.map(() => false);
  const other: boolean[] = words.map(() => false);
  for (let i = 0; i < words.length; i += 1)
    for (const hit of markTrie().at(words, i)) {
      const mark = hit.item;
      if (mark.kind === 'order') orders[i] = mark.n;
      else if (mark.kind === 'all') all[i] = true;
      else other[i] = true;
    }
  const port: Readonly<Record<string, string>> = { port: 'left', starboard: 'right' };
  return {
    sides: words.map((w, i) => {
      // A static port is an opening, and not on the left for it.
      if (w === 'port' && OPENING.test(words[i - 1] ?? '')) return null;
      const s = Object.hasOwn(port, w) ? (port[w] ?? w) : stem(w);
      return SIDE_WORDS.has(s) || s === 'nose' || s === 'tail' || s === 'main' ? s : null;
    }),
    orders,
    all,
    other,
    plural: words.map(isPlural),
    ofAll: words.map(
      (_, i) =>
        all[i - 1] === true ||
        (words[i - 1] === 'the' && all[i - 2] === true) ||
        isShare(words, i) ||
        (words[i - 1] === 'the' && isShare(words, i - 3)),
    ),
    counts: words.map((w, i) => (isPronounOne(words, i) ? null : (countWords().get(w) ?? null))),
  };
}

const OPENING =
  /^(static|pressure|pitot|vent|drain|breather|inlet|intake|exhaust|inspection|access|fuel)$/;

/** "Two of the four": how many of them, and no place. */
const isShare = (words: readonly string[], i: number): boolean =>
  countWords().has(words[i] ?? '') &&
  words[i - 1] !== 'number' &&
  words[i + 1] === 'of' &&
  /^(the|them|these|those)$/.test(words[i + 2] ?? '');

/** "One of the blades", "this one": a word for a thing, and no number of a place. */
function isPronounOne(words: readonly string[], i: number): boolean {
  const { before, behind } = lexicon().sides.pronoun_one;
  return (
    words[i] === 'one' &&
    (before.includes(words[i + 1] ?? '') || behind.includes(words[i - 1] ?? ''))
  );
}

/** UCUM codes that the unit words at hand may be. */
export function unitsIn(tokens: readonly Token[]): ReadonlySet<string> {
  const words = tokens.map((t) => t.word);
  const out = new Set<string>();
  for (let i = 0; i < words.length; i += 1)
    for (const code of unitTrie().longest(words, i)?.item ?? []) out.add(code);
  return out;
}

const OPPOSITES: ReadonlyMap<string, string> = new Map(
  [
    ['left', 'right'],
    ['upper', 'lower'],
    ['forward', 'aft'],
    ['inboard', 'outboard'],
  ].flatMap(([a = '', b = '']) => [[a, b] as const, [b, a] as const]),
);

/** Whether a side said is the other one of a pair whose one is in `own`. */
export function against(side: string, own: ReadonlySet<string>): boolean {
  const other = OPPOSITES.get(side);
  return other !== undefined && own.has(other) && !own.has(side);
}
export function oppositeOf(side: string): string | null {
  return OPPOSITES.get(side) ?? null;
}
