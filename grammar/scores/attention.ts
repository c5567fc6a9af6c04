import { WIDTH } from './encoder.ts';
import { product } from './linear.ts';

/** Attention of several heads (Vaswani et al. 2017, scaled dot product), head by head over plain rows. */

export const HEADS = 4;
export const EACH = WIDTH / HEADS;
const SCALE = 1 / Math.sqrt(EACH);

/** Columns filled up so that they make whole lanes. */
export const padded = (n: number): number => Math.ceil(n / 4) * 4;

/** One head's part of n rows, side by side. */
function part(x: Float32Array, n: number, h: number): Float32Array {
  const out = new Float32Array(n * EACH);
  for (let i = 0; i < n; i += 1)
    out.set(x.subarray(i * WIDTH + h * EACH, i * WIDTH + (h + 1) * EACH), i * EACH);
  return out;
}

/** How much each of `rows` questions looks at each of n keys: shares that add up to one, [rows × padded(n)]. */
export function attention(
  q: Float32Array,
  rows: number,
  k: Float32Array,
  n: number,
  h: number,
  bias: (row: number, key: number) => number,
): Float32Array {
  const raw = product(part(k, n, h), n, EACH, part(q, rows, h), rows);
  const wide = padded(n);
  const a = new Float32Array(rows * wide);
  for (let i = 0; i < rows; i += 1) {
    let most = -Infinity;
    for (let t = 0; t < n; t += 1) {
      const x = (raw[i * n + t] as number) * SCALE + bias(i, t);
      a[i * wide + t] = x;
      if (x > most) most = x;
    }
    let total = 0;
    for (let t = 0; t < n; t += 1) {
      const x = Math.exp((a[i * wide + t] as number) - most);
      a[i * wide + t] = x;
      total += x;
    }
    for (let t = 0; t < n; t += 1) a[i * wide + t] = (a[i * wide + t] as number) / total;
  }
  return a;
}

/** out[row · wide + at + head …] += what is seen with these shares of n values. */
export function gather(
  a: Float32Array,
  rows: number,
  v: Float32Array,
  n: number,
  h: number,
  out: Float32Array,
  wide: number,
  at: number,
): void {
  const span = padded(n);
  const turned = new Float32Array(EACH * span);
  for (let t = 0; t < n; t += 1)
    for (let d = 0; d < EACH; d += 1) turned[d * span + t] = v[t * WIDTH + h * EACH + d] as number;
  const seen = product(turned, EACH, span, a, rows);
  for (let i = 0; i < rows; i += 1)
    for (let d = 0; d < EACH; d += 1) {
      const to = i * wide + at + h * EACH + d;
      out[to] = (out[to] as number) + (seen[i * EACH + d] as number);
    }
}

/** out[to …] += a head's part of rows of a table, each with its weight. */
export function addHead(
  out: Float32Array,
  to: number,
  weights: Float32Array,
  table: Float32Array,
  head: number,
): void {
  for (let m = 0; m < weights.length; m += 1) {
    const w = weights[m] as number;
    if (w === 0) continue;
    for (let d = 0; d < EACH; d += 1)
      out[to + d] = (out[to + d] as number) + w * (table[m * WIDTH + head + d] as number);
  }
}
