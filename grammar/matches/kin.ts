import { lexicon } from '../lexicon.ts';
import { SIDE_WORDS, stem, stems } from '../names.ts';
import type { Token } from '../tokens.ts';
import { Trie } from '../trie.ts';
import type { Roster } from './roster.ts';

/**
 * What people call a thing that the list calls otherwise: "the chimney" is an exhaust, "the
 * strings" are cables (`en/parts.yaml`). A hint of what is meant and never a name: it makes a
 * candidate and speaks for it as likeness in meaning does, and the scores weigh it.
 */

/** One that may be meant by the words at these tokens, 0 to 1. */
export interface KinHit {
  readonly member: number;
  readonly from: number;
  readonly to: number;
  readonly like: number;
}

/** Another word of lists for the same thing, and a word of people; words near in meaning reach about .8. */
const LISTED = 0.95;
const SAID = 0.88;
/** "Exhaust" in "exhaust spring" says less of it than in "main exhaust". */
const NOT_THE_HEAD = 0.6;
/** Less is no hint. */
const LEAST = 0.4;

interface Thing {
  readonly thing: number;
  readonly worth: number;
}

let known: { trie: Trie<Thing>; names: readonly (readonly (readonly string[])[])[] } | null = null;

/** The phrases of all things, built once. */
function things(): NonNullable<typeof known> {
  if (known !== null) return known;
  const trie = new Trie<Thing>();
  const names = lexicon().parts.map(({ names: listed, said }, thing) => {
    const own = listed.map(stems).filter((words) => words.length > 0);
    for (const words of own) trie.add(words, { thing, worth: LISTED });
    for (const phrase of said) trie.add(stems(phrase), { thing, worth: SAID });
    return own;
  });
  known = { trie, names };
  return known;
}

/** Places of the words that carry something: "of" and "the" stand in no phrase. */
function carrying(tokens: readonly Token[]): { at: number[]; words: string[] } {
  const at: number[] = [];
  const words: string[] = [];
  tokens.forEach(({ word }, i) => {
    const [own] = stems(word);
    if (own === undefined) return;
    at.push(i);
    words.push(stem(own));
  });
  return { at, words };
}

/** The things of one aircraft by what people call them. */
export class Kin {
  private readonly holders: ReadonlyMap<number, readonly { member: number; share: number }[]>;
  private readonly own: readonly ReadonlySet<string>[];

  constructor(roster: Roster) {
    this.own = roster.members.map((m) => new Set(m.names.flat()));
    const holders = new Map<number, { member: number; share: number }[]>();
    things().names.forEach((listed, thing) => {
      for (const member of roster.members) {
        let share = 0;
        for (const name of member.names)
          for (const words of listed) share = Math.max(share, shareOf(words, name, roster));
        if (share < LEAST) continue;
        const list = holders.get(thing);
        if (list === undefined) holders.set(thing, [{ member: member.index, share }]);
        else list.push({ member: member.index, share });
      }
    });
    this.holders = holders;
  }

  /** The longest phrase of lists that is no name of this aircraft's, and what may be meant by it here. */
  foreign(tokens: readonly Token[], roster: Roster): Foreign | null {
    const { at, words } = carrying(tokens);
    const meant = this.of(tokens);
    let best: Foreign | null = null;
    for (let i = 0; i < words.length; i += 1) {
      for (const { from, to, item } of things().trie.at(words, i)) {
        const own = { from: at[from] ?? 0, to: (at[to - 1] ?? 0) + 1 };
        const known = words.slice(from, to).every((w) => SIDE_WORDS.has(w) || roster.worth.has(w));
        if (item.worth < LISTED || known) continue;
        if (best !== null && own.to - own.from <= best.to - best.from) continue;
        const near = meant.filter((m) => m.from < own.to && m.to > own.from);
        const held = (this.holders.get(item.thing) ?? []).map((m) => m.member);
        best = { ...own, members: new Set([...near.map((m) => m.member), ...held]), held };
      }
    }
    return best;
  }

  /** All that the words may mean by another word than the list's. */
  of(tokens: readonly Token[]): KinHit[] {
    const { at, words } = carrying(tokens);
    const out: KinHit[] = [];
    for (let i = 0; i < words.length; i += 1)
      for (const { from, to, item } of things().trie.at(words, i)) {
        const said = words.slice(from, to);
        for (const { member, share } of this.holders.get(item.thing) ?? []) {
          const like = item.worth * share;
          // Its own words are looked up as names.
          if (like < LEAST || said.every((w) => this.own[member]?.has(w) === true)) continue;
          out.push({ member, from: at[from] ?? 0, to: (at[to - 1] ?? 0) + 1, like });
        }
      }
    return out;
  }
}

const kins = new WeakMap<Roster, Kin>();

/** A thing that the words name as lists print it, and not as this aircraft's list does. */
export interface Foreign {
  readonly from: number;
  readonly to: number;
  /** What may be meant by it on this aircraft; none where nothing of it is there. */
  readonly members: ReadonlySet<number>;
  /** Those of them that are called by another name of the same thing. */
  readonly held: readonly number[];
}

/** The thing that the words name so; null where they name none. */
export function foreignIn(roster: Roster, tokens: readonly Token[]): Foreign | null {
  const kin = kins.get(roster) ?? new Kin(roster);
  kins.set(roster, kin);
  return kin.foreign(tokens, roster);
}

/** How much of a name these words are, where they stand in it in a row; sides and numbers do not count. */
function shareOf(words: readonly string[], name: readonly string[], roster: Roster): number {
  const bare = name.filter((w) => !SIDE_WORDS.has(w) && !/^\d+$/.test(w));
  const from = bare.findIndex((_, i) => words.every((w, k) => bare[i + k] === w));
  if (from < 0) return 0;
  const sum = (list: readonly string[]): number =>
    list.reduce((all, w) => all + (roster.worth.get(w) ?? 0), 0);
  const all = sum(bare);
  const head = from + words.length === bare.length ? 1 : NOT_THE_HEAD;
  return all === 0 ? 0 : (head * sum(bare.slice(from, from + words.length))) / all;
}
