import { COSTS, UNIT } from './costs.ts';
import type { Ear } from './ear.ts';
import { shapesOf, type Shapes, type Sounding } from './shapes.ts';
import { LONGEST, shared, soundOf, type Sound } from './sounds.ts';
import { step, type Way } from './step.ts';
import { WordCosts } from './words.ts';

/**
 * Finds phrases by sound in a row of words, beginning and ending at word edges of what
 * was heard but not at those within, so that split and joined words are found too.
 *
 * Exhaustive: what it leaves out cannot be cheap enough. What every word behind another
 * costs from every place on is known first (Sellers 1980); a phrase costs at least the sum
 * of the least of these, and a beginning of a phrase is followed only as long as its cost and
 * the least of what is still to come stay below the limit (the cut-off of Ukkonen 1985, over
 * a tree). From word to word only places are joined, whose costs are the word's own, so more
 * phrases over the same words cost little more. `tests/grammar/exhaustive.ts` does the same
 * without any of this, and the two are held against each other.
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

/** The dearest that a phrase of so many phones may be, in twentieths. */
export function dearest(phones: number, loose: boolean): number {
  const least = loose ? looseMatch(phones) : leastMatch(phones);
  return Math.floor((1 - least) * phones * UNIT + 1e-6);
}

const { far: FAR } = COSTS;

export class Listener<T> {
  private readonly shapes: Shapes;
  private readonly limits: Int32Array;
  private readonly loose: Int32Array;
  private readonly ear: Ear;
  private readonly phrases: readonly Sounding<T>[];
  private readonly costs: WordCosts;
  /** The dearest that the way to each row of the tree may be, given the least that must come behind it; remade for every window. */
  private readonly slack: Int32Array;
  /** The dearest way to a row that a longer phrase may go on from. */
  private readonly onward: Int32Array;
  /** The dearest way to each phone of the words that begin phrases. */
  private readonly phoneSlack: Int32Array;
  private readonly depths: Int32Array;
  /** Rows of the alignment, by depth; grown when a sound is longer. */
  private ways: Way[] = [];
  private width = 0;
  /** Where the ends of a word are gathered, by place. */
  private gathered = new Int32Array(0);
  private gatheredWay = new Float64Array(0);
  private gatheredStart = new Int32Array(0);

  constructor(phrases: readonly Sounding<T>[], ear: Ear) {
    this.ear = ear;
    this.phrases = phrases;
    this.shapes = shapesOf(phrases, ear);
    const { length, phone } = this.shapes;
    this.limits = length.map((n) => dearest(n, false));
    this.loose = length.map((n) => dearest(n, true));
    this.costs = new WordCosts(
      this.shapes,
      this.loose.reduce((a, b) => Math.max(a, b), 0),
    );
    this.slack = new Int32Array(length.length);
    this.onward = new Int32Array(length.length);
    this.phoneSlack = new Int32Array(phone.length);
    this.depths = new Int32Array(phone.length);
  }

  /**
   * Phrases heard in the words, likest first for each phrase, overlaps included; where
   * `open` is given, only those over at least one such word. `begins` are the words that a
   * phrase may begin at, even where it is not told then: it may be the cheaper one.
   */
  hear(
    words: readonly string[],
    loose = false,
    open?: readonly boolean[],
    begins?: readonly boolean[],
  ): HeardAs<T>[] {
    const out: HeardAs<T>[] = [];
    for (let from = 0; ; from += WINDOW - OVERLAP) {
      this.window(words, from, Math.min(words.length, from + WINDOW), out, loose, open, begins);
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
    begins: readonly boolean[] | undefined,
  ): void {
    const sound = soundOf(words, from, to, this.ear, open, begins);
    if (sound.stream.length === 0) return;
    this.room(sound.stream.length + 1);
    this.costs.begin(sound.stream);
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
    if (first.count > 0) this.open(sound, loose, out);
  }

  /** How dear the way to each row may be, given the least that must come behind it. */
  private allow(limits: Int32Array): void {
    const { slack, onward } = this;
    const { floor } = this.costs;
    const { word, since, closes, behind } = this.shapes;
    onward.fill(-1);
    for (let i = slack.length - 1; i > 0; i -= 1) {
      const w = word[i] ?? 0;
      const on = onward[i] ?? -1;
      const own = closes[i] === 1 ? (limits[i] ?? -1) : -1;
      const most = own > on ? own : on;
      slack[i] = most;
      const began = since[i] ?? 0;
      if (began === 0) continue;
      const left = most - (floor[behind[w] ?? 0] ?? 0);
      if (left > (onward[began] ?? -1)) onward[began] = left;
    }
  }

  /** Buffers for a sound of so many places. */
  private room(width: number): void {
    if (width <= this.width) return;
    this.width = width;
    this.ways = Array.from({ length: this.shapes.longest + 2 }, () => ({
      there: new Int32Array(width).fill(-1),
      at: new Int32Array(width),
      cost: new Int32Array(width),
      start: new Int32Array(width),
      count: 0,
    }));
    this.gathered = new Int32Array(width).fill(FAR);
    this.gatheredWay = new Float64Array(width);
    this.gatheredStart = new Int32Array(width);
  }

  /** Every phrase, by the phones of its first word: beginnings shared by words are aligned once. */
  private open(sound: Sound, loose: boolean, out: HeardAs<T>[]): void {
    const { slack, onward, phoneSlack, ways, depths } = this;
    const limits = loose ? this.loose : this.limits;
    const { phone, parent, below, ends, closes } = this.shapes;
    for (let i = 0; i < phone.length; i += 1) {
      const row = ends[i] ?? -1;
      phoneSlack[i] = row < 0 ? -1 : (slack[row] ?? -1);
    }
    for (let i = phone.length - 1; i >= 0; i -= 1) {
      const above = parent[i] ?? -1;
      const own = phoneSlack[i] ?? -1;
      if (above >= 0 && own > (phoneSlack[above] ?? -1)) phoneSlack[above] = own;
    }
    const spare = ways[ways.length - 1];
    for (let i = 0; i < phone.length; i += 1) {
      const above = parent[i] ?? -1;
      const deep = above < 0 ? 0 : (depths[above] ?? 0);
      depths[i] = deep + 1;
      const before = ways[deep];
      const now = ways[deep + 1];
      if (before === undefined || now === undefined || spare === undefined) return;
      const limit = phoneSlack[i] ?? -1;
      if (limit < 0) {
        i += below[i] ?? 0;
        continue;
      }
      const want = phone[i] ?? 0;
      const row = ends[i] ?? -1;
      if (
        row >= 0 &&
        closes[row] === 1 &&
        step(before, spare, want, sound.stream, limits[row] ?? -1, true)
      )
        this.close(row, spare, sound, loose, out);
      if (!step(before, now, want, sound.stream, limit, false)) i += below[i] ?? 0;
      else if (row >= 0 && (onward[row] ?? -1) >= 0) this.follow(row, deep + 1, sound, loose, out);
    }
  }

  /** Every phrase that goes on from the end of a word, word by word; `deep` is its row of the alignment. */
  private follow(row: number, deep: number, sound: Sound, loose: boolean, out: HeardAs<T>[]): void {
    const { onward, ways } = this;
    const limits = loose ? this.loose : this.limits;
    const { from, to, rows, closes } = this.shapes;
    const before = ways[deep];
    const now = ways[deep + 1];
    if (before === undefined || now === undefined) return;
    let least: number = FAR;
    for (let k = 0; k < before.count; k += 1) {
      before.there[before.at[k] ?? 0] = k;
      least = Math.min(least, before.cost[k] ?? FAR);
    }
    for (let k = from[row] ?? 0; k < (to[row] ?? 0); k += 1) {
      const next = rows[k] ?? 0;
      const own = closes[next] === 1 ? (limits[next] ?? -1) : -1;
      if (own >= least && this.word(next, before, now, least, own, true, sound))
        this.close(next, now, sound, loose, out);
      const limit = onward[next] ?? -1;
      if (limit >= least && this.word(next, before, now, least, limit, false, sound))
        this.follow(next, deep + 1, sound, loose, out);
    }
    for (let k = 0; k < before.count; k += 1) before.there[before.at[k] ?? 0] = -1;
  }

  /** One word more of a phrase. False where nothing within the limit is left. */
  private word(
    row: number,
    before: Way,
    now: Way,
    least: number,
    limit: number,
    last: boolean,
    sound: Sound,
  ): boolean {
    const { costs, gathered, gatheredWay, gatheredStart } = this;
    const word = this.shapes.word[row] ?? 0;
    const number = this.shapes.behind[word] ?? 0;
    const { ahead, spots } = costs;
    if ((costs.floor[number] ?? 0) + least > limit) return false;
    const own = number * costs.width;
    let low: number = FAR;
    let high = -1;
    const from = costs.places(number, sound.stream.length);
    const until = from + (spots[from] ?? 0);
    for (let s = from + 1; s <= until; s += 1) {
      const place = spots[s] ?? 0;
      const needed = ahead[own + place] ?? FAR;
      if (least + needed > limit) break;
      const k = before.there[place] ?? -1;
      if (k < 0) continue;
      const spent = before.cost[k] ?? FAR;
      if (spent + needed > limit) continue;
      const first = costs.ends(word, number, place, limit - spent, last, sound);
      const { to, cost, way } = costs;
      const end = first + (to[first] ?? 0);
      for (let e = first + 1; e <= end; e += 1) {
        const sum = spent + (cost[e] ?? FAR);
        if (sum > limit) continue;
        const j = to[e] ?? 0;
        const old = gathered[j] ?? FAR;
        if (sum > old || (sum === old && (way[e] ?? 0) >= (gatheredWay[j] ?? 0))) continue;
        gathered[j] = sum;
        gatheredWay[j] = way[e] ?? 0;
        gatheredStart[j] = before.start[k] ?? -1;
        if (j < low) low = j;
        if (j > high) high = j;
      }
    }
    let count = 0;
    for (let j = low; j <= high; j += 1) {
      const cost = gathered[j] ?? FAR;
      if (cost === FAR) continue;
      gathered[j] = FAR;
      now.at[count] = j;
      now.cost[count] = cost;
      now.start[count] = gatheredStart[j] ?? -1;
      count += 1;
    }
    now.count = count;
    return count > 0;
  }

  /** The phrases of a row that was reached: kept where they end at a word edge, the cheapest first. */
  private close(node: number, last: Way, sound: Sound, loose: boolean, out: HeardAs<T>[]): void {
    const found: { from: number; to: number; cost: number }[] = [];
    for (let k = 0; k < last.count; k += 1) {
      const to = sound.ends[last.at[k] ?? 0] ?? -1;
      const from = last.start[k] ?? -1;
      if (to >= 0 && from < to && sound.worth(from, to))
        found.push({ from, to, cost: last.cost[k] ?? FAR });
    }
    const length = this.shapes.length[node] ?? 1;
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
