import type { Matrix } from './weights.ts';

/**
 * One loop of the net in WebAssembly with 128-bit lanes (WebAssembly Core Specification 2.0,
 * https://www.w3.org/TR/wasm-core-2/, chapter 5): rows of numbers times a matrix. It is where
 * nearly all the time of a reading goes, and four lanes of single numbers do it several times
 * quicker than a script, which counts in doubles. The module is a few hundred bytes, written
 * out here, so that no compiler is needed to build the house.
 */

/** Memory is handed out in pages of 64 KiB. */
const PAGE = 65_536;
const FLOAT = 4;
/** Numbers in a lane, and rows of the matrix that are taken at once. */
const LANES = 4;

type Kernel = (
  w: number,
  x: number,
  b: number,
  out: number,
  n: number,
  rows: number,
  bytes: number,
) => void;

/** A matrix that lies in the kernel's memory; rows are filled up to a multiple of four with nought. */
interface Placed {
  readonly weight: number;
  readonly bias: number;
  readonly rows: number;
}

/** What multiplies. A matrix is laid into its memory once, with its bias, and stays there. */
export class Lanes {
  private readonly memory: WebAssembly.Memory;
  private readonly kernel: Kernel;
  private readonly placed = new WeakMap<Float32Array, Placed>();
  /** Matrices lie below, rows and results above. */
  private end = 0;
  private scratch = 0;
  private room = 0;

  private constructor(memory: WebAssembly.Memory, kernel: Kernel) {
    this.memory = memory;
    this.kernel = kernel;
  }

  /** Null where this browser has no such lanes. */
  static open(): Lanes | null {
    try {
      const memory = new WebAssembly.Memory({ initial: 1 });
      const module = new WebAssembly.Module(binary());
      const { exports } = new WebAssembly.Instance(module, { e: { m: memory } });
      return new Lanes(memory, exports['t'] as Kernel);
    } catch {
      // Without lanes the script does the same, slower.
      return null;
    }
  }

  /** [n × rows]: n rows of x, each times the matrix, plus the bias. Columns are a multiple of four. */
  times(weight: Matrix, bias: Float32Array | null, x: Float32Array, n: number): Float32Array {
    const { rows, cols } = weight;
    const at = this.placed.get(weight.data) ?? this.place(weight, bias);
    const from = this.reserve(n * cols + n * at.rows);
    return this.run(at, from, rows, cols, x, n);
  }

  /** The same with a matrix that is made for this once, and no bias: x · wᵀ. */
  product(w: Float32Array, rows: number, cols: number, x: Float32Array, n: number): Float32Array {
    const full = Math.ceil(rows / LANES) * LANES;
    const weight = this.reserve(full * (cols + 1) + n * cols + n * full);
    const bias = weight + full * cols * FLOAT;
    const from = bias + full * FLOAT;
    const memory = new Float32Array(this.memory.buffer, weight, full * (cols + 1));
    memory.set(w);
    // What lay here before must not be added or multiplied.
    memory.fill(0, rows * cols);
    return this.run({ weight, bias, rows: full }, from, rows, cols, x, n);
  }

  /** x lies at `from`, what comes out behind it. */
  private run(
    at: Placed,
    from: number,
    rows: number,
    cols: number,
    x: Float32Array,
    n: number,
  ): Float32Array {
    const to = from + n * cols * FLOAT;
    const { buffer } = this.memory;
    new Float32Array(buffer, from, n * cols).set(
      x.length === n * cols ? x : x.subarray(0, n * cols),
    );
    this.kernel(at.weight, from, at.bias, to, n, at.rows, cols * FLOAT);
    if (at.rows === rows) return new Float32Array(buffer, to, n * rows).slice();
    const out = new Float32Array(n * rows);
    const all = new Float32Array(buffer, to, n * at.rows);
    for (let i = 0; i < n; i += 1) out.set(all.subarray(i * at.rows, i * at.rows + rows), i * rows);
    return out;
  }

  /** Room for so many numbers that are forgotten again. */
  private reserve(numbers: number): number {
    const need = numbers * FLOAT;
    if (this.room < need) {
      // Matrices may lie behind the old room: a larger one is taken afresh, twice as large each time.
      this.room = Math.max(need, 2 * this.room);
      this.scratch = this.take(this.room);
    }
    return this.scratch;
  }

  private place({ data, rows }: Matrix, bias: Float32Array | null): Placed {
    const full = Math.ceil(rows / LANES) * LANES;
    const weight = this.take((data.length / rows) * full * FLOAT);
    const behind = this.take(full * FLOAT);
    new Float32Array(this.memory.buffer, weight, data.length).set(data);
    if (bias !== null)
      new Float32Array(this.memory.buffer, behind, rows).set(bias.subarray(0, rows));
    const placed = { weight, bias: behind, rows: full };
    this.placed.set(data, placed);
    return placed;
  }

  /** So many bytes of nought, in lanes of sixteen. */
  private take(bytes: number): number {
    const from = this.end;
    this.end += Math.ceil(bytes / 16) * 16;
    const lack = this.end - this.memory.buffer.byteLength;
    if (lack > 0) this.memory.grow(Math.ceil(lack / PAGE));
    return from;
  }
}

/** A whole number in LEB128, signed: fits the unsigned ones below 64 as well. */
function leb(value: number): number[] {
  const out: number[] = [];
  for (let v = value; ;) {
    const byte = v & 0x7f;
    v >>= 7;
    if ((v === 0 && (byte & 0x40) === 0) || (v === -1 && (byte & 0x40) !== 0))
      return [...out, byte];
    out.push(byte | 0x80);
  }
}

/** The same without a sign, for lengths. */
function size(value: number): number[] {
  const out: number[] = [];
  for (let v = value; ; v >>>= 7) {
    if (v < 0x80) return [...out, v];
    out.push((v & 0x7f) | 0x80);
  }
}

const get = (local: number): number[] => [0x20, local];
const set = (local: number): number[] => [0x21, local];
const num = (value: number): number[] => [0x41, ...leb(value)];
const ADD = [0x6a];
const MUL = [0x6c];
const LESS = [0x48];
const lane = (op: number, ...more: number[]): number[] => [0xfd, ...size(op), ...more];
/** v128.load, aligned to 16 bytes, at an offset. */
const load = (): number[] => lane(0x00, 4, 0);
const ZERO = lane(0x0c, ...new Array<number>(16).fill(0));
const MUL4 = lane(0xe6);
const ADD4 = lane(0xe4);
const part = (k: number): number[] => lane(0x1f, k);

/** `while (test) body`. */
const during = (test: number[], body: number[]): number[] => [
  ...[0x02, 0x40, 0x03, 0x40],
  ...test,
  ...[0x45, 0x0d, 1],
  ...body,
  ...[0x0c, 0, 0x0b, 0x0b],
];

/** Parameters and locals of the kernel by number. */
const [W, X, B, OUT, N, ROWS, BYTES] = [0, 1, 2, 3, 4, 5, 6];
const [R, I, K, WP, XP] = [7, 8, 9, 10, 11];
const [S0, S1, S2, S3, V] = [12, 13, 14, 15, 16];

/** The module: one function, four rows of the matrix at a time over all rows of x. */
function binary(): Uint8Array<ArrayBuffer> {
  const sums = [S0, S1, S2, S3];
  const step = (local: number, by: number[]): number[] => [
    ...get(local),
    ...by,
    ...ADD,
    ...set(local),
  ];
  /** The four rows lie BYTES apart, from WP on. */
  const rowAt = (k: number): number[] => [...get(WP), ...get(BYTES), ...num(k), ...MUL, ...ADD];
  const inner = [
    ...get(XP),
    ...get(K),
    ...ADD,
    ...load(),
    ...set(V),
    ...sums.flatMap((s, k) => [
      ...rowAt(k),
      ...get(K),
      ...ADD,
      ...load(),
      ...get(V),
      ...MUL4,
      ...get(s),
      ...ADD4,
      ...set(s),
    ]),
    ...step(K, num(16)),
  ];
  /** out[i · rows + r + k] = the lanes' sum + b[r + k] */
  const store = sums.flatMap((s, k) => [
    ...get(OUT),
    ...get(I),
    ...get(ROWS),
    ...MUL,
    ...get(R),
    ...ADD,
    ...num(FLOAT),
    ...MUL,
    ...ADD,
    ...[0, 1, 2, 3].flatMap((l) => [...get(s), ...part(l), ...(l === 0 ? [] : [0x92])]),
    ...get(B),
    ...get(R),
    ...num(FLOAT),
    ...MUL,
    ...ADD,
    0x2a,
    2,
    ...size(k * FLOAT),
    0x92,
    0x38,
    2,
    ...size(k * FLOAT),
  ]);
  const rows = [
    ...get(W),
    ...get(R),
    ...get(BYTES),
    ...MUL,
    ...ADD,
    ...set(WP),
    ...num(0),
    ...set(I),
    ...during(
      [...get(I), ...get(N), ...LESS],
      [
        ...get(X),
        ...get(I),
        ...get(BYTES),
        ...MUL,
        ...ADD,
        ...set(XP),
        ...sums.flatMap((s) => [...ZERO, ...set(s)]),
        ...num(0),
        ...set(K),
        ...during([...get(K), ...get(BYTES), ...LESS], inner),
        ...store,
        ...step(I, num(1)),
      ],
    ),
    ...step(R, num(LANES)),
  ];
  const body = [
    ...[2, 5, 0x7f, 5, 0x7b],
    ...num(0),
    ...set(R),
    ...during([...get(R), ...get(ROWS), ...LESS], rows),
    0x0b,
  ];
  const section = (id: number, content: number[]): number[] => [
    id,
    ...size(content.length),
    ...content,
  ];
  return new Uint8Array([
    ...[0x00, 0x61, 0x73, 0x6d, 1, 0, 0, 0],
    ...section(1, [1, 0x60, 7, ...new Array<number>(7).fill(0x7f), 0]),
    ...section(2, [1, 1, 0x65, 1, 0x6d, 2, 0, 1]),
    ...section(3, [1, 0]),
    ...section(7, [1, 1, 0x74, 0, 0]),
    ...section(10, [1, ...size(body.length), ...body]),
  ]);
}
