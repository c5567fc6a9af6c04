import { COSTS } from './costs.ts';
import type { Shapes } from './shapes.ts';
import type { Sound } from './sounds.ts';

const { swap: SWAP, gap: GAP, phones: PHONES, s: S, z: Z, finalS: FINAL_S, far: FAR } = COSTS;

/** Asked for the ends of a word up to a cost, so much more is looked at: the next to ask may have more to spend. */
const ROOM = 12;

/** Moves of an alignment, the one preferred among equals first; a way is read from its end as a number in base four. */
const ACROSS = 0;
const PUT = 1;
const LOST = 2;
const BASE = 4;

/**
 * What the words that stand behind another one cost in one window of sound, whatever phrase
 * they stand in: known once, however many phrases share the word.
 */
export class WordCosts {
  private readonly shapes: Shapes;
  /** Least cost of a word anywhere in the sound. */
  readonly floor: Int32Array;
  /** By word and place: the least cost of the word from there on, wherever it ends. */
  ahead = new Int32Array(0);
  /** Places of a word in `ahead`. */
  width = 0;
  /** Where a word that begins at a place ends: its rows in `to`, `cost` and `way`; the number of them is before the first. */
  to = new Int32Array(1 << 12);
  cost = new Int32Array(1 << 12);
  /** Which of two equally ccount ways to an end is kept: the smaller. */
  way = new Float64Array(1 << 12);
  private used = 0;
  /**
   * By word: where its places by rising cost begin in `spots`, with their number before them;
   * -1 where not yet asked for.
   */
  private sorted: Int32Array;
  spots = new Int32Array(0);
  private filled = 0;
  /** Places by cost, while they are sorted. */
  private readonly count: Int32Array;
  /** By word and place: those rows, -1 where not yet asked for; for the middle and the end of phrases. */
  private readonly known: [Int32Array, Int32Array] = [new Int32Array(0), new Int32Array(0)];
  /** The dearest end that those rows have. */
  private readonly upTo: [Int32Array, Int32Array] = [new Int32Array(0), new Int32Array(0)];
  private rows = new Int32Array(0);
  private costs: [Int32Array, Int32Array] = [new Int32Array(0), new Int32Array(0)];
  private waysTo: [Float64Array, Float64Array] = [new Float64Array(0), new Float64Array(0)];

  /** No word is heard at a higher cost than this in any phrase. */
  private readonly most: number;

  constructor(shapes: Shapes, most: number) {
    this.shapes = shapes;
    this.most = most;
    this.count = new Int32Array(most + 2);
    this.floor = new Int32Array(shapes.behinds);
    this.sorted = new Int32Array(shapes.behinds);
  }

  /** Begins a window of sound. */
  begin(stream: Uint8Array): void {
    const { behinds, longestWord } = this.shapes;
    if (stream.length + 1 > this.width) {
      this.width = stream.length + 1;
      this.ahead = new Int32Array(behinds * this.width);
      this.spots = new Int32Array(behinds * (this.width + 1));
      this.rows = new Int32Array((longestWord + 1) * this.width);
      for (const k of [0, 1] as const) {
        this.known[k] = new Int32Array(behinds * this.width);
        this.upTo[k] = new Int32Array(behinds * this.width);
        this.costs[k] = new Int32Array(this.width);
        this.waysTo[k] = new Float64Array(this.width);
      }
    }
    this.known[0].fill(-1);
    this.known[1].fill(-1);
    this.sorted.fill(-1);
    this.used = 0;
    this.filled = 0;
    this.look(stream);
  }

  /**
   * The least cost of each word from each place on (Sellers 1980, backwards), its last s free
   * to go. No phone is put in before the first one of a word: it would be the word's before.
   */
  private look(stream: Uint8Array): void {
    const { tailPhone, tailDepth, tailWord } = this.shapes;
    const { rows, ahead, floor, width } = this;
    const n = stream.length;
    rows.fill(0, 0, n + 1);
    for (let node = 1; node < tailPhone.length; node += 1) {
      const want = tailPhone[node] ?? 0;
      const depth = tailDepth[node] ?? 1;
      const word = tailWord[node] ?? -1;
      const lost = depth === 1 && (want === S || want === Z) ? FINAL_S : (GAP[want] ?? 0);
      const row = depth * width;
      const behind = row - width;
      const table = want * PHONES;
      let before = rows[behind + n] ?? 0;
      let now = before + lost;
      rows[row + n] = now;
      let least = now;
      const own = word * width;
      if (word >= 0) ahead[own + n] = now;
      for (let j = n - 1; j >= 0; j -= 1) {
        const heard = stream[j] ?? 0;
        const up = rows[behind + j] ?? 0;
        let cost = before + (SWAP[table + heard] ?? 0);
        if (up + lost < cost) cost = up + lost;
        if (word >= 0) {
          ahead[own + j] = cost;
          if (cost < least) least = cost;
        }
        const put = now + (GAP[heard] ?? 0);
        now = put < cost ? put : cost;
        rows[row + j] = now;
        before = up;
      }
      if (word >= 0) floor[word] = least;
    }
  }

  /** Places at which a word is heard for no more than `limit`, cheapest first, as a place in `spots`. */
  places(number: number, n: number): number {
    const known = this.sorted[number] ?? -1;
    if (known >= 0) return known;
    const { ahead, count, spots, width, most } = this;
    const own = number * width;
    count.fill(0);
    for (let j = 0; j <= n; j += 1) {
      const cost = ahead[own + j] ?? FAR;
      if (cost <= most) count[cost + 1] = (count[cost + 1] ?? 0) + 1;
    }
    for (let c = 1; c < count.length; c += 1) count[c] = (count[c] ?? 0) + (count[c - 1] ?? 0);
    const first = this.filled;
    spots[first] = count[most + 1] ?? 0;
    for (let j = 0; j <= n; j += 1) {
      const cost = ahead[own + j] ?? FAR;
      if (cost > most) continue;
      const k = count[cost] ?? 0;
      spots[first + 1 + k] = j;
      count[cost] = k + 1;
    }
    this.filled = first + 1 + (spots[first] ?? 0);
    this.sorted[number] = first;
    return first;
  }

  /**
   * The ends of a word that begins at a place, at least all up to a cost; with `last`, as the
   * end of a phrase, only at the ends of words heard.
   */
  ends(word: number, number: number, place: number, limit: number, last: boolean, sound: Sound) {
    const kind = last ? 1 : 0;
    const known = this.known[kind];
    const upTo = this.upTo[kind];
    const key = number * this.width + place;
    let first = known[key] ?? -1;
    if (first < 0 || (upTo[key] ?? 0) < limit) {
      upTo[key] = limit + ROOM;
      known[key] = first = this.align(word, place, limit + ROOM, last, sound);
    }
    return first;
  }

  private align(word: number, place: number, limit: number, last: boolean, sound: Sound): number {
    const { stream, ends } = sound;
    const phones = this.shapes.words[word] ?? new Uint8Array(0);
    const n = stream.length;
    let [was, is] = this.costs;
    let [wasWay, isWay] = this.waysTo;
    let low = place;
    let high = place;
    was[place] = 0;
    wasWay[place] = 0;
    for (let i = 0; i < phones.length && low <= high; i += 1) {
      const want = phones[i] ?? 0;
      const final = last && i === phones.length - 1;
      const lost = final && (want === S || want === Z) ? FINAL_S : (GAP[want] ?? 0);
      const table = want * PHONES;
      let across = FAR;
      let acrossWay = 0;
      let left = FAR;
      let leftWay = 0;
      let lowest = n + 1;
      let highest = -1;
      for (let j = low; j <= n && (j <= high + 1 || left < FAR); j += 1) {
        const heard = j > 0 ? (stream[j - 1] ?? 0) : 0;
        const up = j <= high ? (was[j] ?? FAR) : FAR;
        const upWay = j <= high ? (wasWay[j] ?? 0) : 0;
        let cost = across + (SWAP[table + heard] ?? 0);
        let way = (ACROSS + acrossWay) / BASE;
        const put = left + (final && (heard === S || heard === Z) ? FINAL_S : (GAP[heard] ?? 0));
        if (put < cost) {
          cost = put;
          way = (PUT + leftWay) / BASE;
        }
        if (up + lost < cost) {
          cost = up + lost;
          way = (LOST + upWay) / BASE;
        }
        across = up;
        acrossWay = upWay;
        if (cost <= limit) {
          if (lowest > j) lowest = j;
          highest = j;
        } else cost = FAR;
        is[j] = cost;
        isWay[j] = way;
        left = cost;
        leftWay = way;
      }
      low = lowest;
      high = highest;
      [was, is] = [is, was];
      [wasWay, isWay] = [isWay, wasWay];
    }
    this.grow(high - low + 2);
    const first = this.used;
    let at = first + 1;
    for (let j = low; j <= high; j += 1) {
      const cost = was[j] ?? FAR;
      if (cost > limit || (last && (ends[j] ?? -1) < 0)) continue;
      this.to[at] = j;
      this.cost[at] = cost;
      this.way[at] = wasWay[j] ?? 0;
      at += 1;
    }
    this.to[first] = at - first - 1;
    this.used = at;
    return first;
  }

  private grow(more: number): void {
    const size = this.to.length;
    if (this.used + more <= size) return;
    const { to, cost, way } = this;
    this.to = new Int32Array(2 * size + more);
    this.cost = new Int32Array(2 * size + more);
    this.way = new Float64Array(2 * size + more);
    this.to.set(to);
    this.cost.set(cost);
    this.way.set(way);
  }
}
