import type { Matrix } from './weights.ts';

/** Plain arithmetic of the net on rows of numbers; nothing here knows what they mean. */

/**
 * out += matrix · x, from `offset` in x; the matrix is rows × cols. Four rows at a time:
 * each number of x is fetched once for all of them.
 */
export function addProduct(
  out: Float32Array,
  matrix: Matrix,
  x: Float32Array,
  offset = 0,
  to = 0,
): void {
  const { rows, cols, data } = matrix;
  let r = 0;
  for (; r + 4 <= rows; r += 4) {
    let a = 0;
    let b = 0;
    let c = 0;
    let d = 0;
    let at = r * cols;
    const end = at + cols;
    let i = offset;
    for (; at < end; at += 1, i += 1) {
      const v = x[i] as number;
      a += (data[at] as number) * v;
      b += (data[at + cols] as number) * v;
      c += (data[at + 2 * cols] as number) * v;
      d += (data[at + 3 * cols] as number) * v;
    }
    out[to + r] = (out[to + r] as number) + a;
    out[to + r + 1] = (out[to + r + 1] as number) + b;
    out[to + r + 2] = (out[to + r + 2] as number) + c;
    out[to + r + 3] = (out[to + r + 3] as number) + d;
  }
  for (; r < rows; r += 1) {
    let sum = 0;
    const at = r * cols;
    for (let c = 0; c < cols; c += 1) sum += (data[at + c] as number) * (x[offset + c] as number);
    out[to + r] = (out[to + r] as number) + sum;
  }
}

/** As `addProduct` for rows that are mostly nought: column by column. */
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

/** A matrix with its rows and columns changed over, for `addSparse`. */
export function turned({ rows, cols, data }: Matrix): Float32Array {
  const out = new Float32Array(rows * cols);
  for (let r = 0; r < rows; r += 1)
    for (let c = 0; c < cols; c += 1) out[c * rows + r] = data[r * cols + c] as number;
  return out;
}

export function addRow(out: Float32Array, matrix: Matrix, row: number, scale = 1, to = 0): void {
  const at = row * matrix.cols;
  for (let c = 0; c < matrix.cols; c += 1)
    out[to + c] = (out[to + c] as number) + scale * (matrix.data[at + c] as number);
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
