import type { Ear } from './ear.ts';
import { CONFUSION, LOSS, PHONE_COUNT, phoneIndex } from './phones.ts';
import { shapesOf, type Shapes, type Sounding } from './shapes.ts';
import { LONGEST, shared, soundOf, type Sound } from './sounds.ts';

/**
 * Finds phrases by sound in a row of words, beginning and ending at word edges of what
 * was heard but not at those within, so that split and joined words are found too.
 *
 * Exhaustive: what it leaves out cannot be cheap enough. For every word of every phrase
 * the least cost anywhere in the sound is known first (Sellers 1980); a phrase costs at
 * least the sum of these, and a beginning of a phrase is followed only as long as its
 * cost and the least of what is still to come stay below the limit (the cut-off of
 * Ukkonen 1985, over a tree). `tests/grammar/exhaustive.ts` does the same without any of
 * this, and the two are held against each other.
 */
export interface HeardAs<T> {
  readonly from: number;
  readonly to: number;
  readonly item: T;
  /** 1 for the same sound, less by the cost of each confusion over the phrase's length. */
  readonly match: number;
}

/** Words looked at together. Longer windows cost more; a name is never longer than the overlap. */
export const WINDOW = 28;
const OVERLAP = LONGEST;
/** Shorter phrases are taken only for the very same sound ("break" for "brake"). */
export const SHORT_PHONES = 4;
/** Least likeness by length: the shorter, the more other words sound like it. */
export function leastMatch(phones: number): number {
  if (phones <= SHORT_PHONES) return 0.999;
  if (phones <= 6) return 0.86;
  if (phones <= 9) return 0.8;
  return 0.74;
}
/** For a guess that is only ever asked about. */
export function looseMatch(phones: number): number {
  return phones <= SHORT_PHONES ? 0.66 : 0.58;
}

/**
 * Share of a phrase's threes of rough phone classes that must be heard as well: costs alone
 * let a row of small confusions pass in which nothing is left of the word.
 */
export function shareNeeded(phones: number, loose: boolean): number {
  if (loose) return phones <= 6 ? 0 : 0.15;
  return phones <= SHORT_PHONES ? 0 : 0.34;
}

/** Costs are whole twentieths: every weight of phones.ts is a multiple of .05, and sums stay exact. */
export const UNIT = 20;
const SWAP = Int32Array.from(CONFUSION, (c) => Math.round(c * UNIT));
const GAP = Int32Array.from(LOSS, (c) => Math.round(c * UNIT));
/** A plural s more or less at the end is no confusion worth counting. */
export const FINAL_S = 2;
const S = phoneIndex('S') ?? 0;
const Z = phoneIndex('Z') ?? 0;
const FAR = 1 << 20;

/** The dearest that a phrase of so many phones may be, in twentieths. */
export function dearest(phones: number, loose: boolean): number {
  const least = loose ? looseMatch(phones) : leastMatch(phones);
  return Math.floor((1 - least) * phones * UNIT + 1e-6);
}

/** One row of an alignment, only the places whose cost is worth following: cost, and the word it began at. */
interface Row {
  readonly at: Int32Array;
  readonly cost: Int32Array;
  readonly start: Int32Array;
  count: number;
}

export class Listener<T> {
  private readonly shapes: Shapes;
  private readonly limits: Int32Array;
  private readonly loose: Int32Array;
  private readonly ear: Ear;
  private readonly phrases: readonly Sounding<T>[];
  /** Least cost of each word, anywhere in the sound; remade for every window. */
  private readonly floor: Int32Array;
  /** The dearest that the way to each row of the tree of words may be; likewise. */
  private readonly slack: Int32Array;
  /** The same for each phone of the words that may follow. */
  private readonly phoneSlack: Int32Array;
  /** Rows of the tree of phones, and those of the way through the tree of words; grown when a sound is longer. */
  private wordRows = new Int32Array(0);
  private readonly best: Int32Array;
  private readonly least: Int32Array;
  private readonly depths: Int32Array;
  private ways: Row[] = [];
  private width = 0;

  constructor(phrases: readonly Sounding<T>[], ear: Ear) {
    this.ear = ear;
    this.phrases = phrases;
    this.shapes = shapesOf(phrases, ear);
    const { length, phone, wordEnd, wordPhone, longestWord } = this.shapes;
    this.limits = length.map((n) => dearest(n, false));
    this.loose = length.map((n) => dearest(n, true));
    this.floor = new Int32Array(wordEnd.length);
    this.slack = new Int32Array(length.length);
    this.phoneSlack = new Int32Array(phone.length);
    this.depths = new Int32Array(phone.length);
    this.best = new Int32Array(longestWord + 1);
    this.least = new Int32Array(wordPhone.length);
  }

  /**
   * Phrases heard in the words, likest first for each phrase, overlaps included; where
   * `open` is given, only those over at least one such word.
   */
  hear(words: readonly string[], loose = false, open?: readonly boolean[]): HeardAs<T>[] {
    const out: HeardAs<T>[] = [];
    for (let from = 0; ; from += WINDOW - OVERLAP) {
      this.window(words, from, Math.min(words.length, from + WINDOW), out, loose, open);
      if (from + WINDOW >= words.length) break;
    }
    return out;
  }

  private window(
    words: readonly string[],
    from: number,
    to: number,
    out: HeardAs<T>[],
    loose: boolean,
    open: readonly boolean[] | undefined,
  ): void {
    const sound = soundOf(words, from, to, this.ear, open);
    if (sound.stream.length === 0) return;
    this.room(sound.stream.length + 1);
    this.floors(sound.stream);
    this.allow(loose ? this.loose : this.limits);
    const first = this.ways[0];
    if (first === undefined) return;
    first.count = 0;
    sound.begins.forEach((w, j) => {
      if (w < 0) return;
      first.at[first.count] = j;
      first.cost[first.count] = 0;
      first.start[first.count] = w;
      first.count += 1;
    });
    if (first.count > 0) this.follow(0, 0, sound, loose, out);
  }

  /** How dear the way to each row may be, given the least that must come behind it. */
  private allow(limits: Int32Array): void {
    const { slack, floor } = this;
    const { word, since, closes } = this.shapes;
    for (let i = 0; i < slack.length; i += 1) slack[i] = closes[i] === 1 ? (limits[i] ?? -1) : -1;
    for (let i = slack.length - 1; i > 0; i -= 1) {
      const left = (slack[i] ?? -1) - (floor[word[i] ?? 0] ?? 0);
      const began = since[i] ?? 0;
      if (left > (slack[began] ?? -1)) slack[began] = left;
    }
  }

  /** Buffers for a sound of so many places. */
  private room(width: number): void {
    if (width <= this.width) return;
    this.width = width;
    this.wordRows = new Int32Array(width * (this.shapes.longestWord + 1));
    this.ways = Array.from({ length: this.shapes.longest + 2 }, () => ({
      at: new Int32Array(width),
      cost: new Int32Array(width),
      start: new Int32Array(width),
      count: 0,
    }));
  }

  /** The least that each word costs anywhere in the sound, its last s free to go. */
  private floors(stream: Uint8Array): void {
    const { wordPhone, wordDepth, wordEnd } = this.shapes;
    const { wordRows: rows, best, least, width, floor } = this;
    const swap = SWAP;
    const gap = GAP;
    const n = stream.length;
    rows.fill(0, 0, n + 1);
    for (let node = 1; node < wordPhone.length; node += 1) {
      const want = wordPhone[node] ?? 0;
      const lost = gap[want] ?? 0;
      const depth = wordDepth[node] ?? 1;
      const row = depth * width;
      const above = row - width;
      const table = want * PHONE_COUNT;
      let before = rows[above] ?? 0;
      let now = before + lost;
      rows[row] = now;
      let min = now;
      for (let j = 0; j < n; j += 1) {
        const heard = stream[j] ?? 0;
        const up = rows[above + j + 1] ?? 0;
        let cost = before + (swap[table + heard] ?? 0);
        const put = now + (gap[heard] ?? 0);
        if (put < cost) cost = put;
        if (up + lost < cost) cost = up + lost;
        rows[row + j + 1] = cost;
        if (cost < min) min = cost;
        before = up;
        now = cost;
      }
      // The last s is free to go: then the least before it counts as well.
      best[depth] = min;
      if (want === S || want === Z) min = Math.min(min, (best[depth - 1] ?? 0) + FINAL_S);
      least[node] = min;
    }
    for (let w = 0; w < wordEnd.length; w += 1) floor[w] = least[wordEnd[w] ?? 0] ?? 0;
  }

  /** Every phrase that goes on from the end of a word; `deep` is its row of the alignment. */
  private follow(
    node: number,
    deep: number,
    sound: Sound,
    loose: boolean,
    out: HeardAs<T>[],
  ): void {
    const { slack, phoneSlack, ways } = this;
    const limits = loose ? this.loose : this.limits;
    const { phone, parent, below, ends, from, to, closes, length } = this.shapes;
    const first = from[node] ?? 0;
    const end = to[node] ?? 0;
    for (let i = first; i < end; i += 1) {
      const word = ends[i] ?? -1;
      phoneSlack[i] = word < 0 ? -1 : (slack[word] ?? -1);
    }
    for (let i = end - 1; i >= first; i -= 1) {
      const above = parent[i] ?? -1;
      const own = phoneSlack[i] ?? -1;
      if (above >= 0 && own > (phoneSlack[above] ?? -1)) phoneSlack[above] = own;
    }
    const spare = ways[ways.length - 1];
    /** Rows of the alignment by phones of the word: this phone's lies behind its parent's. */
    const { depths } = this;
    for (let i = first; i < end; i += 1) {
      const above = parent[i] ?? -1;
      const row = above < 0 ? deep : (depths[above] ?? 0);
      depths[i] = row + 1;
      const before = ways[row];
      const now = ways[row + 1];
      if (before === undefined || now === undefined || spare === undefined) return;
      const limit = phoneSlack[i] ?? -1;
      if (limit < 0) {
        i += below[i] ?? 0;
        continue;
      }
      const want = phone[i] ?? 0;
      const word = ends[i] ?? -1;
      if (
        word >= 0 &&
        closes[word] === 1 &&
        step(before, spare, want, sound.stream, limits[word] ?? -1, true)
      )
        this.close(word, length[word] ?? 1, spare, sound, loose, out);
      if (!step(before, now, want, sound.stream, limit, false)) i += below[i] ?? 0;
      else if (word >= 0 && to[word] !== from[word]) this.follow(word, row + 1, sound, loose, out);
    }
  }

  /** The phrases of a row that was reached: kept where they end at a word edge, the cheapest first. */
  private close(
    node: number,
    length: number,
    last: Row,
    sound: Sound,
    loose: boolean,
    out: HeardAs<T>[],
  ): void {
    const found: { from: number; to: number; cost: number }[] = [];
    for (let k = 0; k < last.count; k += 1) {
      const to = sound.ends[last.at[k] ?? 0] ?? -1;
      const from = last.start[k] ?? -1;
      if (to >= 0 && from < to && sound.worth(from, to))
        found.push({ from, to, cost: last.cost[k] ?? FAR });
    }
    const needed = shareNeeded(length, loose);
    const threes = this.shapes.threes[node];
    const left = found.filter(
      (hit) =>
        needed === 0 ||
        threes === null ||
        threes === undefined ||
        shared(threes, sound, hit.from, hit.to) >= threes.length * needed,
    );
    this.keep(node, length, left, out);
  }

  private keep(
    node: number,
    length: number,
    found: { from: number; to: number; cost: number }[],
    out: HeardAs<T>[],
  ): void {
    if (found.length > 1) found.sort((a, b) => a.cost - b.cost);
    found.forEach((hit, i) => {
      for (let k = 0; k < i; k += 1) {
        const other = found[k];
        if (other !== undefined && other.cost >= 0 && other.from < hit.to && hit.from < other.to) {
          hit.cost = -1;
          return;
        }
      }
      for (const index of this.shapes.phrases[node] ?? []) {
        const phrase = this.phrases[index];
        if (phrase !== undefined)
          out.push({
            from: hit.from,
            to: hit.to,
            item: phrase.item,
            match: 1 - hit.cost / UNIT / length,
          });
      }
    });
  }
}

/** One phone more of a phrase. False where nothing within the limit is left. */
function step(
  before: Row,
  now: Row,
  want: number,
  stream: Uint8Array,
  limit: number,
  final: boolean,
): boolean {
  const { at: wasAt, cost: was, start: wasStart, count } = before;
  const { at, cost: is, start: isStart } = now;
  const swap = SWAP;
  const gap = GAP;
  const lost = final && (want === S || want === Z) ? FINAL_S : (gap[want] ?? 0);
  const table = want * PHONE_COUNT;
  const n = stream.length;
  let out = 0;
  let k = 0;
  let j = wasAt[0] ?? 0;
  let across = FAR;
  let acrossStart = -1;
  let left = FAR;
  let leftStart = -1;
  for (;;) {
    let up = FAR;
    let upStart = -1;
    if (k < count && wasAt[k] === j) {
      up = was[k] ?? FAR;
      upStart = wasStart[k] ?? -1;
      k += 1;
    }
    const heard = j > 0 ? (stream[j - 1] ?? 0) : 0;
    let cost = across + (swap[table + heard] ?? 0);
    let start = acrossStart;
    const put = left + (final && (heard === S || heard === Z) ? FINAL_S : (gap[heard] ?? 0));
    if (put < cost) {
      cost = put;
      start = leftStart;
    }
    if (up + lost < cost) {
      cost = up + lost;
      start = upStart;
    }
    across = up;
    acrossStart = upStart;
    if (cost <= limit) {
      at[out] = j;
      is[out] = cost;
      isStart[out] = start;
      out += 1;
      left = cost;
      leftStart = start;
    } else left = FAR;
    if (left < FAR || across < FAR) j += 1;
    else if (k < count) j = wasAt[k] ?? 0;
    else break;
    if (j > n) break;
  }
  now.count = out;
  return out > 0;
}
