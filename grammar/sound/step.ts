import { COSTS } from './costs.ts';

/** Places of an alignment whose cost is worth following: the cost, and the word it began at. */
export interface Way {
  /** By place: its number here, -1 for none; only while words behind are looked for. */
  readonly there: Int32Array;
  readonly at: Int32Array;
  readonly cost: Int32Array;
  readonly start: Int32Array;
  count: number;
}

/** One phone more of a phrase. False where nothing within the limit is left. */
export function step(
  before: Way,
  now: Way,
  want: number,
  stream: Uint8Array,
  limit: number,
  final: boolean,
): boolean {
  const { far, swap, gap, phones, s, z, finalS } = COSTS;
  const { at: wasAt, cost: was, start: wasStart, count } = before;
  const { at, cost: is, start: isStart } = now;
  const lost = final && (want === s || want === z) ? finalS : (gap[want] ?? 0);
  const table = want * phones;
  const n = stream.length;
  let out = 0;
  let k = 0;
  let j = wasAt[0] ?? 0;
  let across = far;
  let acrossStart = -1;
  let left = far;
  let leftStart = -1;
  for (;;) {
    let up = far;
    let upStart = -1;
    if (k < count && wasAt[k] === j) {
      up = was[k] ?? far;
      upStart = wasStart[k] ?? -1;
      k += 1;
    }
    const heard = j > 0 ? (stream[j - 1] ?? 0) : 0;
    let cost = across + (swap[table + heard] ?? 0);
    let start = acrossStart;
    const put = left + (final && (heard === s || heard === z) ? finalS : (gap[heard] ?? 0));
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
    } else left = far;
    if (left < far || across < far) j += 1;
    else if (k < count) j = wasAt[k] ?? 0;
    else break;
    if (j > n) break;
  }
  now.count = out;
  return out > 0;
}
