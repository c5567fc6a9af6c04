import { ARTICLES, SIDE_WORDS, stem } from '../names.ts';
import type { Ear } from '../sound/ear.ts';
import { likeness } from '../sound/likeness.ts';
import type { Token } from '../tokens.ts';
import { Kin } from './kin.ts';
import type { Roster } from './roster.ts';
import { senses } from './senses.ts';
import type { Vectors } from './vectors.ts';

/** How well each word of an utterance fits one member of the roster, kept sparse. */
export interface MemberMatch {
  /** By token: share of a name that the words around it make up, 0 to 1. */
  readonly name: ReadonlyMap<number, number>;
  /** By token: likeness in meaning to a word of its names, or a word of people for it, 0 to 1. */
  readonly meaning: ReadonlyMap<number, number>;
  readonly best: number;
  readonly bestMeaning: number;
}

/** Everything that the words of one utterance may name. */
export interface Matches {
  readonly of: readonly MemberMatch[];
  /** By token: the best and second best share among checks, and the best among stations. */
  readonly best: Float32Array;
  readonly second: Float32Array;
  readonly station: Float32Array;
}

/**
 * A word of a name heard wrong is worth less than one heard right. Too much here and
 * talk names things; too little and a mangled name is lost. Set by how often each kind
 * was right among damaged copies of walks to learn from.
 */
const SPELLED = { one: 0.8, two: 0.65, begun: 0.75 } as const;
/** Least likeness of sound at which a word may be another, and what it is then worth. */
const SOUNDS_LIKE = 0.74;
const SOUND_WORTH = 0.9;
/** Shorter words have too many neighbours to be taken for another. */
const SHORTEST = 4;
/** Phones more or less that cannot be the same word. */
const PHONES_APART = 3;
/** Words between two words of one name. */
const NAME_GAP = 3;
/** Least likeness in meaning that is kept. */
const MEANS_LIKE = 0.42;

/** A word of the utterance that may be a word of a name, and what it is then worth. */
interface Hit {
  readonly token: number;
  readonly worth: number;
}

/** One name of one member: its words by number, each once, with what it is worth. */
interface Phrase {
  readonly member: number;
  readonly words: readonly number[];
  readonly worth: readonly number[];
  readonly side: readonly boolean[];
  readonly total: number;
  /** Tokens that it may be spread over. */
  readonly span: number;
}

function phraseOf(
  member: number,
  words: readonly string[],
  worth: ReadonlyMap<string, number>,
  numbers: ReadonlyMap<string, number>,
): Phrase {
  const own = [...new Set(words)].filter((w) => numbers.has(w));
  return {
    member,
    words: own.map((w) => numbers.get(w) ?? -1),
    worth: own.map((w) => worth.get(w) ?? 0),
    side: own.map((w) => SIDE_WORDS.has(w)),
    total: words.reduce((sum, w) => sum + (worth.get(w) ?? 0), 0),
    span: words.length + 2,
  };
}

/** The shares that one name has at the tokens where its words stand near each other. */
function cover(
  phrase: Phrase,
  at: ReadonlyMap<number, readonly Hit[]>,
  n: number,
  out: Map<number, Map<number, number>>,
): void {
  if (phrase.total === 0) return;
  const hits: { token: number; word: number; worth: number }[] = [];
  phrase.words.forEach((number, word) => {
    for (const { token, worth } of at.get(number) ?? []) hits.push({ token, word, worth });
  });
  if (hits.length > 1) hits.sort((a, b) => a.token - b.token || b.worth - a.worth);
  // By word of the name: the hit that is taken for it, from this start on.
  const got: (Hit | undefined)[] = [];
  hits.forEach((start, s) => {
    if (s > 0 && hits[s - 1]?.token === start.token) return;
    got.length = 0;
    let last = start.token;
    let covered = 0;
    let named = false;
    for (let k = s; k < hits.length; k += 1) {
      const hit = hits[k];
      if (hit === undefined || hit.token >= start.token + phrase.span || hit.token >= n) break;
      if (hit.token - last > NAME_GAP) break;
      if (got[hit.word] !== undefined) continue;
      got[hit.word] = hit;
      last = hit.token;
      covered += (phrase.worth[hit.word] ?? 0) * hit.worth;
      if (phrase.side[hit.word] !== true) named = true;
    }
    if (!named) return;
    const share = covered / phrase.total;
    let list = out.get(phrase.member);
    if (list === undefined) out.set(phrase.member, (list = new Map()));
    for (const hit of got)
      if (hit !== undefined && share > (list.get(hit.token) ?? 0)) list.set(hit.token, share);
  });
}

const NO_MATCH: MemberMatch = { name: new Map(), meaning: new Map(), best: 0, bestMeaning: 0 };

/** A matcher over one roster; words once looked up are remembered. */
export class Matcher {
  private readonly roster: Roster;
  private readonly ear: Ear;
  private readonly vectors: Vectors;
  private readonly kin: Kin;
  private readonly vocabulary: readonly string[];
  private readonly sounds: readonly (readonly Uint8Array[])[];
  private readonly named = new Map<string, ReadonlyMap<string, number>>();
  private readonly joined = new Map<string, ReadonlyMap<string, number>>();
  private readonly meant = new Map<string, readonly { member: number; like: number }[]>();
  private readonly rows: readonly { member: number; row: number; share: number }[];
  /** Words of names by number, and for each the names that it is in. */
  private readonly numbers: ReadonlyMap<string, number>;
  private readonly phrases: readonly Phrase[];
  private readonly holders: readonly (readonly number[])[];
  /** The utterance in which a phrase was last laid over the words. */
  private readonly laid: Uint32Array;
  private turn = 0;

  constructor(roster: Roster, ear: Ear, vectors: Vectors) {
    this.roster = roster;
    this.ear = ear;
    this.vectors = vectors;
    this.kin = new Kin(roster);
    this.vocabulary = [...roster.worth.keys()];
    this.sounds = this.vocabulary.map((w) => ear.of(w));
    this.rows = roster.members.flatMap((m) =>
      m.meaning.flatMap(({ word, share }) => {
        const row = vectors.row(word);
        return row < 0 ? [] : [{ member: m.index, row, share }];
      }),
    );
    this.numbers = new Map(this.vocabulary.map((word, i) => [word, i]));
    this.phrases = roster.members.flatMap((m) =>
      m.names.map((words) => phraseOf(m.index, words, roster.worth, this.numbers)),
    );
    const holders: number[][] = this.vocabulary.map(() => []);
    this.phrases.forEach(({ words }, i) => {
      for (const word of words) holders[word]?.push(i);
    });
    this.holders = holders;
    this.laid = new Uint32Array(this.phrases.length);
  }

  /** Words of the catalogue's names that a word may be, with what each is worth. */
  private wordIs(word: string): ReadonlyMap<string, number> {
    let found = this.named.get(word);
    if (found !== undefined) return found;
    const own = stem(word);
    const made = new Map<string, number>();
    if (this.roster.worth.has(own)) made.set(own, 1);
    else if (!ARTICLES.has(own) && own.length >= SHORTEST && !senses().knows(word)) {
      this.vocabulary.forEach((other, i) => {
        if (other.length < SHORTEST) return;
        const x = Math.max(spelledLike(own, other), this.soundsLike(word, i));
        if (x > 0) made.set(other, x);
      });
    }
    found = made;
    this.remember(this.named, word, found);
    return found;
  }

  /** Two words that are one word of a name, torn in two. */
  private pairIs(a: string, b: string): ReadonlyMap<string, number> {
    const key = `${a} ${b}`;
    let found = this.joined.get(key);
    if (found !== undefined) return found;
    const made = new Map<string, number>();
    const first = this.ear.of(a)[0];
    const second = this.ear.of(b)[0];
    if (first !== undefined && second !== undefined) {
      const whole = new Uint8Array(first.length + second.length);
      whole.set(first);
      whole.set(second, first.length);
      this.vocabulary.forEach((other, i) => {
        if (other.length < LONG_NAME) return;
        const x = this.likeTo(whole, i);
        if (x > 0) made.set(other, x);
      });
    }
    found = made;
    this.remember(this.joined, key, found);
    return found;
  }

  private soundsLike(word: string, i: number): number {
    let best = 0;
    for (const phones of this.ear.of(word)) best = Math.max(best, this.likeTo(phones, i));
    return best;
  }

  private likeTo(phones: Uint8Array, i: number): number {
    let best = 0;
    for (const other of this.sounds[i] ?? []) {
      if (Math.abs(other.length - phones.length) > PHONES_APART) continue;
      best = Math.max(best, likeness(phones, other));
    }
    return best >= SOUNDS_LIKE ? best * SOUND_WORTH : 0;
  }

  private meaningOf(word: string): readonly { member: number; like: number }[] {
    let found = this.meant.get(word);
    if (found !== undefined) return found;
    const row = word.length < SHORTEST || SMALL.has(word) ? -1 : this.vectors.row(word);
    const best = new Map<number, number>();
    if (row >= 0)
      for (const other of this.rows) {
        if (other.row === row) continue;
        const like = this.vectors.alike(row, other.row) * other.share;
        if (like >= MEANS_LIKE) best.set(other.member, Math.max(best.get(other.member) ?? 0, like));
      }
    found = [...best].map(([member, like]) => ({ member, like }));
    this.remember(this.meant, word, found);
    return found;
  }

  private remember<T>(memo: Map<string, T>, key: string, found: T): void {
    if (memo.size >= REMEMBERED) memo.clear();
    memo.set(key, found);
  }

  /** All that these words may name. */
  match(tokens: readonly Token[]): Matches {
    const n = tokens.length;
    /** By word of a name: the tokens that may be it. */
    const at = new Map<number, Hit[]>();
    const put = (word: string, token: number, worth: number): void => {
      const number = this.numbers.get(word);
      if (number === undefined) return;
      const list = at.get(number);
      if (list === undefined) at.set(number, [{ token, worth }]);
      else list.push({ token, worth });
    };
    tokens.forEach(({ word }, i) => {
      for (const [other, x] of this.wordIs(word)) put(other, i, x);
      const next = tokens[i + 1];
      if (next === undefined || next.gap > 0 || word.length + next.word.length < LONG_NAME) return;
      if (this.wordIs(word).size > 0 || this.wordIs(next.word).size > 0) return;
      for (const [other, x] of this.pairIs(word, next.word)) {
        put(other, i, x);
        put(other, i + 1, x);
      }
    });
    const names = new Map<number, Map<number, number>>();
    this.turn += 1;
    for (const word of at.keys())
      for (const number of this.holders[word] ?? []) {
        const phrase = this.phrases[number];
        if (phrase === undefined || this.laid[number] === this.turn) continue;
        this.laid[number] = this.turn;
        cover(phrase, at, n, names);
      }
    const meanings = new Map<number, Map<number, number>>();
    const means = (member: number, token: number, like: number): void => {
      let list = meanings.get(member);
      if (list === undefined) meanings.set(member, (list = new Map()));
      list.set(token, Math.max(list.get(token) ?? 0, like));
    };
    tokens.forEach(({ word }, i) => {
      for (const { member, like } of this.meaningOf(word)) means(member, i, like);
    });
    for (const { member, from, to, like } of this.kin.of(tokens))
      for (let i = from; i < to; i += 1) means(member, i, like);
    return this.gather(n, names, meanings);
  }

  private gather(
    n: number,
    names: ReadonlyMap<number, ReadonlyMap<number, number>>,
    meanings: ReadonlyMap<number, ReadonlyMap<number, number>>,
  ): Matches {
    const best = new Float32Array(n);
    const second = new Float32Array(n);
    const station = new Float32Array(n);
    const of = this.roster.members.map((member) => {
      const name = names.get(member.index);
      const meaning = meanings.get(member.index);
      if (name === undefined && meaning === undefined) return NO_MATCH;
      let top = 0;
      let close = 0;
      for (const [token, share] of name ?? []) {
        top = Math.max(top, share);
        if (member.check === null) station[token] = Math.max(station[token] ?? 0, share);
        else if (share > (best[token] ?? 0)) {
          second[token] = best[token] ?? 0;
          best[token] = share;
        } else if (share > (second[token] ?? 0)) second[token] = share;
      }
      for (const like of (meaning ?? new Map<number, number>()).values())
        close = Math.max(close, like);
      return {
        name: name ?? NO_MATCH.name,
        meaning: meaning ?? NO_MATCH.meaning,
        best: top,
        bestMeaning: close,
      };
    });
    return { of, best, second, station };
  }
}

/** A name's word shorter than this is not pieced together from two. */
const LONG_NAME = 6;
/** Words whose meanings are remembered; above this the memo starts afresh. */
const REMEMBERED = 4_000;
/** Words that stand near everything in meaning. */
const SMALL: ReadonlySet<string> = new Set(
  'this that there here with from have been were they them then than what when where which while your will would could should about into over some just like know look looks looking good fine okay right left back down well going come comes again also very really only even much many more most same other another still want need make made take every thing things something everything nothing'.split(
    ' ',
  ),
);

/** How alike two stems are written: 0 where they are not. */
function spelledLike(a: string, b: string): number {
  if (a.length > SHORTEST && Math.min(a.length, b.length) >= SHORTEST)
    if (b.startsWith(a) || a.startsWith(b)) return SPELLED.begun;
  const far = edits(a, b);
  if (far === 1 && a.length > SHORTEST) return SPELLED.one;
  return far === 2 && a.length > 7 ? SPELLED.two : 0;
}

/** Letters to change, add or leave out; 9 where more than two. */
function edits(a: string, b: string): number {
  if (Math.abs(a.length - b.length) > 2) return 9;
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 0; i < a.length; i += 1) {
    const next = [i + 1];
    let least = i + 1;
    for (let j = 0; j < b.length; j += 1) {
      const cost = Math.min(
        (row[j] ?? 0) + (a[i] === b[j] ? 0 : 1),
        (row[j + 1] ?? 0) + 1,
        (next[j] ?? 0) + 1,
      );
      next.push(cost);
      least = Math.min(least, cost);
    }
    if (least > 2) return 9;
    row = next;
  }
  return row[b.length] ?? 9;
}
