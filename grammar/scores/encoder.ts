import { senses as kinds } from '../matches/senses.ts';
import type { TokenInput } from './around.ts';
import { addRow, relu, times } from './linear.ts';
import { WeightsError, type Matrix, type Weights } from './weights.ts';

/** Width of what is known of a word; the learned sizes must agree (grammar/learn/net.py). */
export const WIDTH = 128;
const HALF = WIDTH / 2;
const GRAMS = 1024;
const MOST_GRAMS = 10;
const UNKNOWN = 1;
const MASKED = 2;
const MOST_SENSES = 36;

/** A matrix of the weights by name. Throws WeightsError when it is not there. */
export function matrixOf(weights: Weights, name: string): Matrix {
  const found = weights.matrices.get(name);
  if (found === undefined)
    throw new WeightsError(`The reader's weights have no "${name}"; reload the page once.`);
  return found;
}

interface Cell {
  readonly input: Matrix;
  readonly hidden: Matrix;
  readonly bias: Float32Array;
}

/** Reads the words of an utterance in both directions: one row of `WIDTH` numbers a word. */
export class Encoder {
  private readonly weights: Weights;
  private readonly word: Matrix;
  private readonly meaning: Matrix;
  private readonly gram: Matrix;
  private readonly inp: Matrix;
  private readonly inpBias: Matrix;
  /** The first layer of each kind of cue and each pause, worked out beforehand: rows of `WIDTH`. */
  private readonly sense: Matrix;
  private readonly gap: Matrix;
  /** Row of each of the lexicon's kinds of cue, by name; -1 where the scores were learned without it. */
  private readonly kindRow: readonly number[];
  /** Columns of the first layer for the plain numbers of a word. */
  private readonly plain: readonly Float32Array[];
  private readonly cells: readonly (readonly [Cell, Cell])[];
  /** What a word brings by itself, whatever stands beside it. */
  private readonly known = new Map<string, Float32Array>();

  constructor(weights: Weights) {
    this.weights = weights;
    const m = (name: string): Matrix => matrixOf(weights, name);
    this.word = m('word.weight');
    this.meaning = m('meaning.weight');
    this.gram = m('gram.weight');
    this.inp = m('inp.weight');
    this.inpBias = m('inp.bias');
    const senses = m('sense.weight');
    this.kindRow = kinds().names.map((name) => weights.senses.indexOf(name));
    const gaps = m('gap.weight');
    const own = this.word.cols + this.meaning.rows + this.gram.cols;
    // In the file the spelling stands before the cues.
    this.sense = firstLayer(this.inp, senses, own);
    this.gap = firstLayer(this.inp, gaps, own + senses.cols);
    this.plain = Array.from({ length: PLAIN }, (_, k) =>
      column(this.inp, own + senses.cols + gaps.cols + k),
    );
    const cell = (name: string): Cell => {
      const one = m(`enc.bias_ih_${name}`).data;
      const two = m(`enc.bias_hh_${name}`).data;
      return {
        input: m(`enc.weight_ih_${name}`),
        hidden: m(`enc.weight_hh_${name}`),
        bias: one.map((x, i) => x + (two[i] ?? 0)),
      };
    };
    this.cells = [
      [cell('l0'), cell('l0_reverse')],
      [cell('l1'), cell('l1_reverse')],
    ];
  }

  /** What the first layer makes of one word, its meaning and its spelling. */
  private ofWord(word: string): Float32Array {
    let row = this.known.get(word);
    if (row !== undefined) return row;
    const { words, vectors } = this.weights;
    const own = this.word.cols;
    const out = new Float32Array(own + this.meaning.rows + this.gram.cols);
    const masked = word.startsWith('<');
    addRow(out, this.word, masked ? MASKED : (words.get(word) ?? UNKNOWN));
    const at = masked ? -1 : vectors.row(word);
    if (at >= 0) {
      const vector = new Float32Array(vectors.dims);
      let length = 0;
      for (let k = 0; k < vectors.dims; k += 1) {
        vector[k] = vectors.table[at * vectors.dims + k] ?? 0;
        length += (vector[k] ?? 0) ** 2;
      }
      length = Math.sqrt(length);
      if (length > 0)
        for (let k = 0; k < vector.length; k += 1) vector[k] = (vector[k] ?? 0) / length;
      out.set(times({ weight: this.meaning, bias: null }, vector, 1), own);
    }
    if (!masked) {
      const grams = gramsOf(word);
      for (const g of grams) addRow(out, this.gram, g, 1 / grams.length, own + this.meaning.rows);
    }
    row = new Float32Array(this.inpBias.data);
    addPart(row, this.inp, out);
    if (this.known.size >= KEPT) this.known.clear();
    this.known.set(word, row);
    return row;
  }

  /** [words × WIDTH]. */
  encode(tokens: readonly TokenInput[]): Float32Array {
    const n = tokens.length;
    const x = new Float32Array(n * WIDTH);
    const out = new Float32Array(WIDTH);
    tokens.forEach((t, i) => {
      out.set(this.ofWord(t.word));
      for (const kind of t.senses.slice(0, MOST_SENSES)) {
        const row = this.kindRow[kind] ?? -1;
        if (row >= 0) addRow(out, this.sense, row);
      }
      addRow(out, this.gap, Math.min(t.gap, 3));
      const tied = t.best > 0 && Math.abs(t.best - t.second) < TIED;
      [t.asks ? 1 : 0, t.side ? 1 : 0, t.best, t.second, t.station, tied ? 1 : 0].forEach(
        (v, k) => {
          const own = this.plain[k];
          if (v !== 0 && own !== undefined)
            for (let d = 0; d < WIDTH; d += 1) out[d] = (out[d] as number) + v * (own[d] as number);
        },
      );
      relu(out);
      x.set(out, i * WIDTH);
    });
    let rows = x;
    for (const [there, back] of this.cells) {
      const next = new Float32Array(n * WIDTH);
      run(there, rows, n, next, 0, false);
      run(back, rows, n, next, HALF, true);
      rows = next;
    }
    return rows;
  }
}

/** Numbers of a word that are neither word nor cue: asked, side, and how well names fit. */
const PLAIN = 6;

/** The first layer of every row of a table that stands at `from` in its input. */
function firstLayer(inp: Matrix, table: Matrix, from: number): Matrix {
  const data = new Float32Array(table.rows * WIDTH);
  for (let row = 0; row < table.rows; row += 1)
    for (let d = 0; d < WIDTH; d += 1) {
      let sum = 0;
      for (let c = 0; c < table.cols; c += 1)
        sum += (inp.data[d * inp.cols + from + c] ?? 0) * (table.data[row * table.cols + c] ?? 0);
      data[row * WIDTH + d] = sum;
    }
  return { rows: table.rows, cols: WIDTH, data };
}

function column(inp: Matrix, at: number): Float32Array {
  return Float32Array.from({ length: WIDTH }, (_, d) => inp.data[d * inp.cols + at] ?? 0);
}

/** out += the first columns of the matrix · x. */
function addPart(out: Float32Array, inp: Matrix, x: Float32Array): void {
  for (let d = 0; d < WIDTH; d += 1) {
    let sum = 0;
    for (let c = 0; c < x.length; c += 1)
      sum += (inp.data[d * inp.cols + c] as number) * (x[c] as number);
    out[d] = (out[d] as number) + sum;
  }
}

/** Two names this near are tied: half a hundredth, as the learned side rounds. */
const TIED = 0.01;
/** Words remembered; above this the memo starts afresh. */
const KEPT = 4_000;

/** By one power of e, as the sigmoid: the language's own takes several times as long. */
const tanh = (x: number): number => 1 - 2 / (1 + Math.exp(2 * x));

/** One direction of one layer (LSTM, Hochreiter & Schmidhuber 1997; gates in PyTorch's order). */
function run(
  { input, hidden, bias }: Cell,
  x: Float32Array,
  n: number,
  out: Float32Array,
  offset: number,
  back: boolean,
): void {
  // What the words bring is worked out for all of them at once.
  const brought = times({ weight: input, bias }, x, n);
  const memory = { weight: hidden, bias: null };
  const h = new Float32Array(HALF);
  const c = new Float32Array(HALF);
  for (let k = 0; k < n; k += 1) {
    const i = back ? n - 1 - k : k;
    const row = i * 4 * HALF;
    const gates = times(memory, h, 1);
    for (let r = 0; r < gates.length; r += 1)
      gates[r] = (gates[r] as number) + (brought[row + r] as number);
    for (let j = 0; j < HALF; j += 1) {
      const enter = 1 / (1 + Math.exp(-(gates[j] as number)));
      const keep = 1 / (1 + Math.exp(-(gates[HALF + j] as number)));
      const show = 1 / (1 + Math.exp(-(gates[3 * HALF + j] as number)));
      c[j] = keep * (c[j] as number) + enter * tanh(gates[2 * HALF + j] as number);
      h[j] = show * tanh(c[j] as number);
      out[i * WIDTH + offset + j] = h[j] as number;
    }
  }
}

/** Buckets of the three-letter pieces of a word, as grammar/learn/data.py counts them. */
export function gramsOf(word: string): number[] {
  const letters = new TextEncoder().encode(`^${word}$`);
  const text = `^${word}$`;
  if (letters.length !== text.length)
    return [...text]
      .slice(0, -2)
      .map((_, i) => hash(new TextEncoder().encode([...text].slice(i, i + 3).join(''))))
      .slice(0, MOST_GRAMS);
  const out: number[] = [];
  for (let i = 0; i + 3 <= letters.length && out.length < MOST_GRAMS; i += 1)
    out.push(hash(letters.subarray(i, i + 3)));
  return out;
}

/** FNV-1a, 32 bits, public domain. */
function hash(bytes: Uint8Array): number {
  let h = 2166136261;
  for (const b of bytes) h = Math.imul(h ^ b, 16777619) >>> 0;
  return h % GRAMS;
}
