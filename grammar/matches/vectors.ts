import { stem } from '../names.ts';

/**
 * Where ordinary English words stand to each other in meaning: short vectors of
 * length one, as whole numbers. `grammar/MODEL.md` says where they come from.
 */
export interface Vectors {
  readonly dims: number;
  /** Row of a word, or -1. */
  row(word: string): number;
  /** Cosine of two rows, -1 to 1. */
  alike(a: number, b: number): number;
  /** The rows one behind the other, `dims` numbers each, to be multiplied by 1/127. */
  readonly table: Int8Array;
}

/** Vectors over a list of words and their table. */
export function vectorsOf(words: readonly string[], dims: number, table: Int8Array): Vectors {
  const rows = new Map(words.map((word, i) => [word, i]));
  const length = new Float32Array(words.length);
  for (let r = 0; r < words.length; r += 1) {
    let sum = 0;
    for (let k = 0; k < dims; k += 1) sum += (table[r * dims + k] ?? 0) ** 2;
    length[r] = Math.sqrt(sum);
  }
  return {
    dims,
    table,
    row: (word) => rows.get(word) ?? rows.get(stem(word)) ?? -1,
    alike(a, b) {
      if (a < 0 || b < 0) return 0;
      let sum = 0;
      const from = a * dims;
      const to = b * dims;
      for (let k = 0; k < dims; k += 1) sum += (table[from + k] ?? 0) * (table[to + k] ?? 0);
      const both = (length[a] ?? 0) * (length[b] ?? 0);
      return both === 0 ? 0 : sum / both;
    },
  };
}

/** No words known: every likeness is 0. */
export const NO_VECTORS: Vectors = vectorsOf([], 1, new Int8Array(0));
