import { Lanes } from './simd.ts';
import type { Matrix } from './weights.ts';

/** Plain arithmetic of the net on rows of numbers; nothing here knows what they mean. */

/** A matrix, rows × cols, with what is added behind it. */
export interface Linear {
  readonly weight: Matrix;
  readonly bias: Float32Array | null;
}

/** Opened at the first need; null where there are none. */
let lanes: Lanes | null | undefined;

/** n rows of x, each times the matrix, plus the bias: [n × rows]. */
export function times(linear: Linear, x: Float32Array, n: number): Float32Array {
  const { cols } = linear.weight;
  if (n === 0) return new Float32Array(0);
  if (lanes === undefined) lanes = Lanes.open();
  // Columns that fill no lane are nowhere in the net; the script does them all the same.
  if (lanes === null || cols % 4 !== 0) return timesByScript(linear, x, n);
  return lanes.times(linear.weight, linear.bias, x, n);
}

/** x · wᵀ for a matrix that is made for this once: [n × rows]; columns a multiple of four. */
export function product(
  w: Float32Array,
  rows: number,
  cols: number,
  x: Float32Array,
  n: number,
): Float32Array {
  if (lanes === undefined) lanes = Lanes.open();
  if (lanes !== null) return lanes.product(w, rows, cols, x, n);
  return timesByScript({ weight: { rows, cols, data: w }, bias: null }, x, n);
}

/**
 * The same where there are no lanes. Four rows of the matrix at
 * a time, so that each number of x is fetched once for all of them, and all of x for each
 * four, so that these stay at hand.
 */
export function timesByScript({ weight, bias }: Linear, x: Float32Array, n: number): Float32Array {
  const { rows, cols, data } = weight;
  const out = new Float32Array(n * rows);
  let r = 0;
  for (; r + 4 <= rows; r += 4) {
    const b0 = bias === null ? 0 : (bias[r] as number);
    const b1 = bias === null ? 0 : (bias[r + 1] as number);
    const b2 = bias === null ? 0 : (bias[r + 2] as number);
    const b3 = bias === null ? 0 : (bias[r + 3] as number);
    const first = r * cols;
    for (let i = 0; i < n; i += 1) {
      let a = b0;
      let b = b1;
      let c = b2;
      let d = b3;
      let w = first;
      const end = (i + 1) * cols;
      for (let k = i * cols; k < end; k += 1, w += 1) {
        const v = x[k] as number;
        a += (data[w] as number) * v;
        b += (data[w + cols] as number) * v;
        c += (data[w + 2 * cols] as number) * v;
        d += (data[w + 3 * cols] as number) * v;
      }
      const to = i * rows + r;
      out[to] = a;
      out[to + 1] = b;
      out[to + 2] = c;
      out[to + 3] = d;
    }
  }
  for (; r < rows; r += 1)
    for (let i = 0; i < n; i += 1) {
      let sum = bias === null ? 0 : (bias[r] as number);
      const at = r * cols;
      for (let k = 0; k < cols; k += 1)
        sum += (data[at + k] as number) * (x[i * cols + k] as number);
      out[i * rows + r] = sum;
    }
  return out;
}

/** A matrix with its rows and columns changed over. */
export function turned({ rows, cols, data }: Matrix): Float32Array {
  const out = new Float32Array(rows * cols);
  for (let r = 0; r < rows; r += 1)
    for (let c = 0; c < cols; c += 1) out[c * rows + r] = data[r * cols + c] as number;
  return out;
}

/** out[to …] += x · matrix for few numbers other than nought; `columns` is the matrix turned. */
export function addSparse(
  out: Float32Array,
  columns: Float32Array,
  rows: number,
  x: ArrayLike<number>,
  to = 0,
): void {
  for (let c = 0; c < x.length; c += 1) {
    const v = x[c] as number;
    if (v === 0) continue;
    const at = c * rows;
    for (let r = 0; r < rows; r += 1)
      out[to + r] = (out[to + r] as number) + v * (columns[at + r] as number);
  }
}

/** out[to …] += a row of a table, `scale` times. */
export function addRow(out: Float32Array, table: Matrix, row: number, scale = 1, to = 0): void {
  const { cols, data } = table;
  const at = row * cols;
  for (let c = 0; c < cols; c += 1)
    out[to + c] = (out[to + c] as number) + scale * (data[at + c] as number);
}

export function relu(x: Float32Array): void {
  for (let i = 0; i < x.length; i += 1) if ((x[i] as number) < 0) x[i] = 0;
}

export const sigmoid = (x: number): number => 1 / (1 + Math.exp(-x));

/** Shares that add up to one. */
export function softmax(x: readonly number[]): number[] {
  const most = Math.max(...x);
  const all = x.map((v) => Math.exp(v - most));
  const sum = all.reduce((a, b) => a + b, 0);
  return all.map((v) => v / sum);
}
