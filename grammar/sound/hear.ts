import type { Ear } from './ear.ts';
import { CLASSES, CONFUSION, LOSS, PHONE_CLASS, PHONE_COUNT, phoneIndex } from './phones.ts';

/**
 * Finds phrases by sound in a row of words. Phrases are indexed by rough phone
 * classes in threes; the few that share enough of them are aligned phone by phone,
 * beginning and ending at word edges, so that split and joined words are found too.
 */
export interface Sounding<T> {
  readonly item: T;
  readonly words: readonly string[];
}
export interface HeardAs<T> {
  readonly from: number;
  readonly to: number;
  readonly item: T;
  /** 1 for the same sound, less by the cost of each confusion over the phrase's length. */
  readonly match: number;
}

/** Words looked at together. Longer windows cost more; a name is never longer than the overlap. */
const WINDOW = 28;
const OVERLAP = 8;
/** Share of a phrase's phone threes that must be there before it is aligned. */
const SHARE = 0.34;
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
const LOOSE_SHARE = 0.15;
const LOOSE_PHONES = 6;
function looseMatch(phones: number): number {
  return phones <= SHORT_PHONES ? 0.66 : 0.58;
}
/** A plural s more or less at the end is no confusion worth counting. */
const FINAL_S = 0.1;
const S = phoneIndex('S') ?? 0;
const Z = phoneIndex('Z') ?? 0;

interface Variant {
  /** Rough phone threes in order, for finding where in the stream it may lie. */
  readonly keys: Uint16Array;
  readonly phones: Uint8Array;
  readonly phrase: number;
  readonly threes: number;
}

export class Listener<T> {
  private readonly variants: Variant[] = [];
  private readonly postings: number[][] = [];
  /** Phrases so short that one wrong phone leaves nothing in common. */
  private readonly short: number[] = [];
  private readonly counts: Uint16Array;
  private readonly seen: Int32Array;
  private stamp = 0;
  /** Columns of the alignment, made once for the longest phrase. */
  private readonly columns: {
    readonly before: Float32Array;
    readonly now: Float32Array;
    readonly startBefore: Int32Array;
    readonly startNow: Int32Array;
  };
  private readonly ear: Ear;
  private readonly phrases: readonly Sounding<T>[];

  constructor(phrases: readonly Sounding<T>[], ear: Ear) {
    this.ear = ear;
    this.phrases = phrases;
    phrases.forEach((phrase, index) => {
      for (const phones of soundsOf(phrase.words, ear)) {
        if (phones.length < 3) continue;
        const keys = new Set<number>();
        for (let i = 0; i + 2 < phones.length; i += 1) keys.add(three(phones, i));
        const id = this.variants.length;
        const row = new Uint16Array(Math.max(0, phones.length - 2));
        for (let i = 0; i < row.length; i += 1) row[i] = three(phones, i);
        this.variants.push({ phones, phrase: index, threes: keys.size, keys: row });
        for (const key of keys) (this.postings[key] ??= []).push(id);
        if (phones.length <= LOOSE_PHONES) this.short.push(id);
      }
    });
    const longest = this.variants.reduce((n, v) => Math.max(n, v.phones.length), 0);
    this.columns = {
      before: new Float32Array(longest + 1),
      now: new Float32Array(longest + 1),
      startBefore: new Int32Array(longest + 1),
      startNow: new Int32Array(longest + 1),
    };
    this.counts = new Uint16Array(this.variants.length);
    this.seen = new Int32Array(this.variants.length);
  }

  /** Phrases heard in the words, likest first for each phrase, overlaps included. */
  hear(words: readonly string[], loose = false): HeardAs<T>[] {
    const out: HeardAs<T>[] = [];
    for (let from = 0; ; from += WINDOW - OVERLAP) {
      this.window(words, from, Math.min(words.length, from + WINDOW), out, loose);
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
  ): void {
    const sounds: Uint8Array[] = [];
    let length = 0;
    for (let w = from; w < to; w += 1) {
      const phones = this.ear.of(words[w] ?? '')[0] ?? new Uint8Array(0);
      sounds.push(phones);
      length += phones.length;
    }
    const stream = new Uint8Array(length);
    /** For a phone position: the word that begins or ends there, or -1. */
    const begins = new Int32Array(length + 1).fill(-1);
    const ends = new Int32Array(length + 1).fill(-1);
    let end = 0;
    sounds.forEach((phones, k) => {
      begins[end] = from + k;
      stream.set(phones, end);
      end += phones.length;
      ends[end] = from + k + 1;
    });
    this.stamp += 1;
    const touched: number[] = [];
    const places = new Map<number, number[]>();
    for (let i = 0; i + 2 < stream.length; i += 1) {
      const key = three(stream, i);
      const row = places.get(key);
      if (row === undefined) places.set(key, [i]);
      else row.push(i);
    }
    for (const key of places.keys()) {
      for (const id of this.postings[key] ?? []) {
        if (this.seen[id] !== this.stamp) {
          this.seen[id] = this.stamp;
          this.counts[id] = 0;
          touched.push(id);
        }
        this.counts[id] = (this.counts[id] ?? 0) + 1;
      }
    }
    if (loose) {
      for (const id of this.short) {
        if (this.seen[id] === this.stamp) continue;
        this.counts[id] = 0;
        touched.push(id);
      }
    }
    for (const id of touched) {
      const variant = this.variants[id];
      if (variant === undefined) continue;
      const share = loose ? LOOSE_SHARE : variant.phones.length <= SHORT_PHONES ? 1 : SHARE;
      const enough =
        loose && variant.phones.length <= LOOSE_PHONES ? 0 : Math.max(1, variant.threes * share);
      if ((this.counts[id] ?? 0) < enough) continue;
      const n = variant.phones.length;
      if (loose || n <= SHORT_PHONES) {
        this.align(variant, stream, 0, stream.length, begins, ends, out, loose);
        continue;
      }
      for (const at of lies(variant.keys, places, enough)) {
        this.align(
          variant,
          stream,
          Math.max(0, at - MARGIN),
          Math.min(stream.length, at + n + MARGIN),
          begins,
          ends,
          out,
          loose,
        );
      }
    }
  }

  private align(
    variant: Variant,
    stream: Uint8Array,
    low: number,
    high: number,
    begins: Int32Array,
    ends: Int32Array,
    out: HeardAs<T>[],
    loose: boolean,
  ): void {
    const name = variant.phones;
    const n = name.length;
    const phrase = this.phrases[variant.phrase];
    if (phrase === undefined) return;
    const least = loose ? looseMatch(n) : leastMatch(n);
    const most = (1 - least) * n;
    let { before, now, startBefore, startNow } = this.columns;
    const FAR = 1e6;
    // Column by column over the stream; row 0 is free only where a word begins.
    const first = begins[low] ?? -1;
    before[0] = first < 0 ? FAR : 0;
    startBefore[0] = first;
    // Costs only grow, so what is dearer than `most` is given up: rows above `top` are
    // dead (Ukkonen 1985, "Finding approximate patterns in strings", the cut-off).
    let top = first < 0 ? -1 : 0;
    for (let i = 1; i <= n && top === i - 1; i += 1) {
      before[i] = (before[i - 1] ?? FAR) + (LOSS[name[i - 1] ?? 0] ?? 1);
      startBefore[i] = first;
      if ((before[i] ?? FAR) <= most) top = i;
    }
    if (top < n) before[top + 1] = FAR;
    const found: { from: number; to: number; cost: number }[] = [];
    for (let j = low + 1; j <= high; j += 1) {
      const heard = stream[j - 1] ?? 0;
      const opens = begins[j] ?? -1;
      if (opens < 0 && top < 0) continue;
      now[0] = opens < 0 ? FAR : 0;
      startNow[0] = opens;
      const put = LOSS[heard] ?? 1;
      const reach = Math.min(n, top + 1);
      top = opens < 0 ? -1 : 0;
      for (let i = 1; i <= reach; i += 1) {
        const want = name[i - 1] ?? 0;
        let cost = (before[i - 1] ?? FAR) + (CONFUSION[want * PHONE_COUNT + heard] ?? 1);
        let start = startBefore[i - 1] ?? -1;
        const extra =
          (before[i] ?? FAR) + (i === n && (heard === S || heard === Z) ? FINAL_S : put);
        if (extra < cost) {
          cost = extra;
          start = startBefore[i] ?? -1;
        }
        const lost =
          (now[i - 1] ?? FAR) +
          (i === n && (want === S || want === Z) ? FINAL_S : (LOSS[want] ?? 1));
        if (lost < cost) {
          cost = lost;
          start = startNow[i - 1] ?? -1;
        }
        now[i] = cost;
        startNow[i] = start;
        if ((now[i] ?? FAR) <= most) top = i;
      }
      // Above that only phones left out lead on.
      for (let i = reach + 1; i <= n && top === i - 1; i += 1) {
        const want = name[i - 1] ?? 0;
        now[i] =
          (now[i - 1] ?? FAR) +
          (i === n && (want === S || want === Z) ? FINAL_S : (LOSS[want] ?? 1));
        startNow[i] = startNow[i - 1] ?? -1;
        if ((now[i] ?? FAR) <= most) top = i;
      }
      if (top < n) now[top + 1] = FAR;
      const closes = ends[j] ?? -1;
      if (closes >= 0 && top === n) {
        const cost = now[n] ?? FAR;
        const from = startNow[n] ?? -1;
        if (cost <= most && from >= 0 && from < closes) found.push({ from, to: closes, cost });
      }
      [before, now] = [now, before];
      [startBefore, startNow] = [startNow, startBefore];
    }
    if (found.length === 0) return;
    found.sort((a, b) => a.cost - b.cost);
    const kept: typeof found = [];
    for (const hit of found) {
      if (kept.some((k) => k.from < hit.to && hit.from < k.to)) continue;
      kept.push(hit);
      out.push({ from: hit.from, to: hit.to, item: phrase.item, match: 1 - hit.cost / n });
    }
  }
}

/** Phones before and behind the likely place that are looked at too. */
const MARGIN = 4;
/** Threes this far apart still speak for the same place (phones put in or left out). */
const SLACK = 3;
/** One phrase is looked for in so many places of one window. */
const PLACES = 3;

/** Where in the stream a phrase may begin: places for which enough of its threes speak. */
function lies(
  keys: Uint16Array,
  places: ReadonlyMap<number, readonly number[]>,
  enough: number,
): number[] {
  const starts: number[] = [];
  for (let i = 0; i < keys.length; i += 1) {
    for (const at of places.get(keys[i] ?? 0) ?? []) starts.push(at - i);
  }
  starts.sort((a, b) => a - b);
  const found: { at: number; votes: number }[] = [];
  let left = 0;
  for (let right = 0; right < starts.length; right += 1) {
    while ((starts[right] ?? 0) - (starts[left] ?? 0) > SLACK) left += 1;
    const votes = right - left + 1;
    if (votes < enough) continue;
    const at = starts[left] ?? 0;
    const last = found[found.length - 1];
    if (last !== undefined && at - last.at <= SLACK) {
      if (votes > last.votes) found[found.length - 1] = { at, votes };
    } else found.push({ at, votes });
  }
  return found
    .sort((a, b) => b.votes - a.votes)
    .slice(0, PLACES)
    .map((f) => f.at);
}

function three(phones: ArrayLike<number>, i: number): number {
  return (
    ((PHONE_CLASS[phones[i] ?? 0] ?? 0) * CLASSES + (PHONE_CLASS[phones[i + 1] ?? 0] ?? 0)) *
      CLASSES +
    (PHONE_CLASS[phones[i + 2] ?? 0] ?? 0)
  );
}

/** The sounds of a phrase: first pronunciations joined, and one variant for each other one of a word. */
export function soundsOf(words: readonly string[], ear: Ear): Uint8Array[] {
  const all = words.map((w) => ear.of(w));
  const join = (pick: readonly Uint8Array[]): Uint8Array => {
    const out = new Uint8Array(pick.reduce((n, p) => n + p.length, 0));
    let at = 0;
    for (const part of pick) {
      out.set(part, at);
      at += part.length;
    }
    return out;
  };
  const first = all.map((v) => v[0] ?? new Uint8Array(0));
  const out = [join(first)];
  all.forEach((variants, i) => {
    for (const other of variants.slice(1))
      out.push(join(first.map((p, k) => (k === i ? other : p))));
  });
  return out.slice(0, 4);
}

/** How alike two rows of phones sound, 0 to 1, over the longer of them. */
export function likeness(a: Uint8Array, b: Uint8Array): number {
  const n = a.length;
  const m = b.length;
  if (n === 0 || m === 0) return 0;
  let before = new Float32Array(m + 1);
  for (let j = 1; j <= m; j += 1) before[j] = (before[j - 1] ?? 0) + (LOSS[b[j - 1] ?? 0] ?? 1);
  for (let i = 1; i <= n; i += 1) {
    const now = new Float32Array(m + 1);
    now[0] = (before[0] ?? 0) + (LOSS[a[i - 1] ?? 0] ?? 1);
    for (let j = 1; j <= m; j += 1) {
      now[j] = Math.min(
        (before[j - 1] ?? 0) + (CONFUSION[(a[i - 1] ?? 0) * PHONE_COUNT + (b[j - 1] ?? 0)] ?? 1),
        (before[j] ?? 0) + (LOSS[a[i - 1] ?? 0] ?? 1),
        (now[j - 1] ?? 0) + (LOSS[b[j - 1] ?? 0] ?? 1),
      );
    }
    before = now;
  }
  return Math.max(0, 1 - (before[m] ?? 0) / Math.max(n, m));
}
