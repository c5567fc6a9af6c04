import type { Ear } from './ear.ts';
import { CLASSES, PHONE_CLASS } from './phones.ts';

/** A phrase to listen for. */
export interface Sounding<T> {
  readonly item: T;
  readonly words: readonly string[];
}

/** Shorter phrases would be heard everywhere. */
const FEWEST_PHONES = 3;
/** At most so many pronunciations of one phrase. */
const VARIANTS = 4;

/**
 * Phrases as a tree of words, made once for a catalogue, with the phones of its words laid
 * out twice: those that begin phrases as a tree from their beginnings, aligned together
 * where they share one; those that stand behind another word as a tree from their ends.
 */
export interface Shapes {
  /** Phones of each word. */
  readonly words: readonly Uint8Array[];
  /** By word: its number among those that stand behind another one, -1 where it only begins phrases. */
  readonly behind: Int32Array;
  readonly behinds: number;
  /** Tree of those words from their last phone on; 0 is the root. */
  readonly tailPhone: Uint8Array;
  readonly tailDepth: Uint8Array;
  /** By row of that tree: the number of the word that begins here, -1 for none. */
  readonly tailWord: Int32Array;
  readonly longestWord: number;
  /**
   * Tree of phrases, by word. Each row is the end of a word, 0 the beginning of all: the
   * word, the row that it began at, phones so far, the phrases that end here, and the rows
   * of the words that may follow, in `rows`.
   */
  readonly word: Int32Array;
  readonly since: Int32Array;
  readonly length: Int32Array;
  readonly phrases: readonly (readonly number[] | null)[];
  /** Threes of rough phone classes of the phrases that end here, each once. */
  readonly threes: readonly (Uint16Array | null)[];
  /** 1 where a phrase ends. */
  readonly closes: Uint8Array;
  readonly from: Int32Array;
  readonly to: Int32Array;
  readonly rows: Int32Array;
  /**
   * Phones of the words that begin phrases, parents first: the phone before (-1 at the
   * beginning of a word), how many phones hang below, and the row of the word that ends
   * with it (-1 for none).
   */
  readonly phone: Uint8Array;
  readonly parent: Int32Array;
  readonly below: Int32Array;
  readonly ends: Int32Array;
  readonly longest: number;
}

interface Branch {
  readonly next: Map<number, Branch>;
  phrases: number[] | null;
}

/** The trees of the phrases in all their pronunciations. */
export function shapesOf(phrases: readonly Sounding<unknown>[], ear: Ear): Shapes {
  const numbers = new Map<string, number>();
  const words: Uint8Array[] = [];
  const numberOf = (phones: Uint8Array): number => {
    const key = phones.join(' ');
    let number = numbers.get(key);
    if (number === undefined) {
      numbers.set(key, (number = words.length));
      words.push(phones);
    }
    return number;
  };
  const root: Branch = { next: new Map(), phrases: null };
  phrases.forEach((phrase, index) => {
    for (const sounds of variantsOf(phrase.words, ear)) {
      const spoken = sounds.filter((p) => p.length > 0);
      if (spoken.reduce((n, p) => n + p.length, 0) < FEWEST_PHONES) continue;
      let branch = root;
      for (const phones of spoken) {
        const word = numberOf(phones);
        let next = branch.next.get(word);
        if (next === undefined) branch.next.set(word, (next = { next: new Map(), phrases: null }));
        branch = next;
      }
      const row = (branch.phrases ??= []);
      if (!row.includes(index)) row.push(index);
    }
  });
  return { words, ...tailTree(words, behindAnother(root)), ...phraseTree(root, words) };
}

interface Stalk {
  readonly next: Map<number, Stalk>;
  word: number;
}

/** Words that stand second or later in a phrase: only of these must the least cost be known ahead. */
function behindAnother(root: Branch): ReadonlySet<number> {
  const found = new Set<number>();
  const walk = (branch: Branch): void => {
    for (const [word, next] of branch.next) {
      found.add(word);
      walk(next);
    }
  };
  for (const first of root.next.values()) walk(first);
  return found;
}

function tailTree(words: readonly Uint8Array[], wanted: ReadonlySet<number>) {
  const root: Stalk = { next: new Map(), word: -1 };
  const behind = new Int32Array(words.length).fill(-1);
  let behinds = 0;
  words.forEach((phones, w) => {
    if (!wanted.has(w)) return;
    let at = root;
    for (let i = phones.length - 1; i >= 0; i -= 1) {
      const p = phones[i] ?? 0;
      let to = at.next.get(p);
      if (to === undefined) at.next.set(p, (to = { next: new Map(), word: -1 }));
      at = to;
    }
    at.word = behinds;
    behind[w] = behinds;
    behinds += 1;
  });
  const phone: number[] = [];
  const depth: number[] = [];
  const word: number[] = [];
  const walk = (stalk: Stalk, own: number, deep: number): void => {
    phone.push(own);
    depth.push(deep);
    word.push(stalk.word);
    for (const [p, next] of stalk.next) walk(next, p, deep + 1);
  };
  walk(root, 0, 0);
  return {
    behind,
    behinds,
    tailPhone: Uint8Array.from(phone),
    tailDepth: Uint8Array.from(depth),
    tailWord: Int32Array.from(word),
    longestWord: words.reduce((n, w) => Math.max(n, w.length), 0),
  };
}

interface Twig {
  readonly next: Map<number, Twig>;
  word: number;
}

function phraseTree(root: Branch, words: readonly Uint8Array[]) {
  const word: number[] = [];
  const since: number[] = [];
  const length: number[] = [];
  const phrases: (number[] | null)[] = [];
  const from: number[] = [];
  const to: number[] = [];
  const rows: number[] = [];
  const phone: number[] = [];
  const parent: number[] = [];
  const below: number[] = [];
  const ends: number[] = [];
  const threes: (Uint16Array | null)[] = [];
  const path: number[] = [];
  const open = (branch: Branch, own: number, began: number, phones: number): number => {
    const at = word.length;
    word.push(own);
    since.push(began);
    length.push(phones);
    phrases.push(branch.phrases);
    threes.push(branch.phrases === null ? null : Uint16Array.from(threesOf(path)));
    const top: Twig = { next: new Map(), word: -1 };
    for (const w of branch.next.keys()) {
      let twig = top;
      for (const p of words[w] ?? []) {
        let next = twig.next.get(p);
        if (next === undefined) twig.next.set(p, (next = { next: new Map(), word: -1 }));
        twig = next;
      }
      twig.word = w;
    }
    /** The words that may follow, in the order of their phones; for those that begin phrases these are laid out. */
    const order: number[] = [];
    const wordAt: number[] = [];
    const grow = (twig: Twig, above: number): void => {
      for (const [p, next] of twig.next) {
        const row = phone.length;
        if (at === 0) {
          phone.push(p);
          parent.push(above);
          below.push(0);
          ends.push(-1);
        }
        if (next.word >= 0) {
          order.push(next.word);
          wordAt.push(row);
        }
        grow(next, row);
        if (at === 0) below[row] = phone.length - row - 1;
      }
    };
    grow(top, -1);
    const first = rows.length;
    from.push(first);
    to.push(first + order.length);
    for (let k = 0; k < order.length; k += 1) rows.push(-1);
    order.forEach((w, k) => {
      const next = branch.next.get(w);
      if (next === undefined) return;
      path.push(...(words[w] ?? []));
      const row = open(next, w, at, phones + (words[w]?.length ?? 0));
      rows[first + k] = row;
      if (at === 0) ends[wordAt[k] ?? 0] = row;
      path.length = phones;
    });
    return at;
  };
  open(root, -1, -1, 0);
  return {
    word: Int32Array.from(word),
    since: Int32Array.from(since),
    length: Int32Array.from(length),
    phrases,
    threes,
    closes: Uint8Array.from(phrases, (p) => (p === null ? 0 : 1)),
    from: Int32Array.from(from),
    to: Int32Array.from(to),
    rows: Int32Array.from(rows),
    phone: Uint8Array.from(phone),
    parent: Int32Array.from(parent),
    below: Int32Array.from(below),
    ends: Int32Array.from(ends),
    longest: length.reduce((a, b) => Math.max(a, b), 0),
  };
}

/** The sounds of a phrase, word by word: first pronunciations, then one row for each other one of a word. */
function variantsOf(words: readonly string[], ear: Ear): (readonly Uint8Array[])[] {
  const all = words.map((w) => ear.of(w));
  const first = all.map((v) => v[0] ?? new Uint8Array(0));
  const out = [first];
  all.forEach((variants, i) => {
    for (const other of variants.slice(1)) out.push(first.map((p, k) => (k === i ? other : p)));
  });
  return out.slice(0, VARIANTS);
}

/** Rough classes of three phones in a row, as one number. */
export function three(phones: ArrayLike<number>, i: number): number {
  const of = (k: number): number => PHONE_CLASS[phones[k] ?? 0] ?? 0;
  return (of(i) * CLASSES + of(i + 1)) * CLASSES + of(i + 2);
}

/** All threes of a row of phones. */
export function threesOf(phones: ArrayLike<number>): Set<number> {
  const found = new Set<number>();
  for (let i = 0; i + 2 < phones.length; i += 1) found.add(three(phones, i));
  return found;
}
