import { vectorsOf, type Vectors } from '../matches/vectors.ts';

/** A matrix of whole numbers, row by row, each row with its own scale. */
export interface Matrix {
  readonly rows: number;
  readonly cols: number;
  readonly data: Float32Array;
}

/** What was learned: `grammar/MODEL.md` says from what, and what it must not be used for. */
export interface Weights {
  /** Version of the layout and of what was learned, with the hash of what it was learned from. */
  readonly version: string;
  readonly corpus: string;
  readonly words: ReadonlyMap<string, number>;
  readonly vectors: Vectors;
  readonly matrices: ReadonlyMap<string, Matrix>;
  /** Names of the kinds of cue, condition labels, forces and orders that it was learned with. */
  readonly senses: readonly string[];
  readonly labels: readonly string[];
  /** Temperature of each score: what the raw ones are divided by. */
  readonly temperatures: Readonly<Record<string, number>>;
}

/** The layout that this reader reads. */
export const LAYOUT = 1;

interface Head {
  layout: number;
  version: string;
  corpus: string;
  words: string;
  vectors: { dims: number; words: string };
  senses: string[];
  labels: string[];
  temperatures: Record<string, number>;
  matrices: { name: string; rows: number; cols: number }[];
}

/** Weights that cannot be used: one sentence that says why and what to do. */
export class WeightsError extends Error {}

/**
 * Reads a file of weights: a line of JSON, then for every matrix the scales of its rows
 * (32-bit numbers) and its whole numbers, then the word vectors.
 * Throws WeightsError with one sentence.
 */
export function readWeights(file: ArrayBuffer): Weights {
  const bytes = new Uint8Array(file);
  const end = bytes.indexOf(10);
  const head = headOf(bytes, end);
  if (head.layout !== LAYOUT)
    throw new WeightsError(
      `The reader's weights are of layout ${String(head.layout)} and this version reads ${String(LAYOUT)}; reload the page once with a network.`,
    );
  let at = end + 1;
  const take = (count: number): Uint8Array => {
    if (at + count > bytes.length)
      throw new WeightsError(
        'The file of the reader’s weights ends too early; reload the page once with a network.',
      );
    const part = bytes.slice(at, at + count);
    at += count;
    return part;
  };
  const matrices = new Map<string, Matrix>();
  for (const { name, rows, cols } of head.matrices) {
    const scales = new Float32Array(take(rows * 4).buffer);
    const whole = new Int8Array(take(rows * cols).buffer);
    const data = new Float32Array(rows * cols);
    for (let r = 0; r < rows; r += 1) {
      const scale = scales[r] ?? 0;
      for (let c = 0; c < cols; c += 1) data[r * cols + c] = (whole[r * cols + c] ?? 0) * scale;
    }
    matrices.set(name, { rows, cols, data });
  }
  const meant = head.vectors.words.split(' ');
  const table = new Int8Array(take(meant.length * head.vectors.dims).buffer);
  return {
    version: head.version,
    corpus: head.corpus,
    words: new Map(head.words.split(' ').map((w, i) => [w, i])),
    vectors: vectorsOf(meant, head.vectors.dims, table),
    matrices,
    senses: head.senses,
    labels: head.labels,
    temperatures: head.temperatures,
  };
}

function headOf(bytes: Uint8Array, end: number): Head {
  try {
    if (end < 0) throw new Error('no head');
    return JSON.parse(new TextDecoder().decode(bytes.subarray(0, end))) as Head;
  } catch {
    throw new WeightsError(
      'The file of the reader’s weights cannot be read; reload the page once with a network.',
    );
  }
}
