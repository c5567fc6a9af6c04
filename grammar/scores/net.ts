import { Encoder, matrixOf, WIDTH } from './encoder.ts';
import type { CandidateInput, Inputs, TokenInput } from './inputs.ts';
import { addProduct, addRow, addSparse, relu, sigmoid, softmax, turned } from './linear.ts';
import type { Matrix, Weights } from './weights.ts';

/** Learned scores of one candidate, as probabilities. */
export interface Scored {
  readonly result: number;
  readonly good: number;
  readonly finding: number;
  readonly value: number;
  readonly ask: number;
  readonly talk: number;
  readonly done: number;
  readonly amends: number;
  readonly excepted: number;
  /** Shares of the forces of talk, in the order of `FORCES`. */
  readonly forces: readonly number[];
  /** Named or all; one without saying which; the bare plural. */
  readonly which: readonly number[];
  /** Conditions by label without a word for them: present, then absent. */
  readonly named: readonly number[];
  /** For each condition match: not meant here, present, absent. */
  readonly conditions: readonly (readonly number[])[];
  readonly aspects: readonly number[];
  /** For each place: meant at all, reported good, reported with a fault. */
  readonly places: readonly PlaceScored[];
}

export interface PlaceScored {
  readonly meant: number;
  readonly good: number;
  readonly finding: number;
}

export interface Scores {
  readonly candidates: readonly Scored[];
  /** Share of each kind of order, in the order of `ORDERS`. */
  readonly orders: readonly number[];
}

export const FORCES = [
  'intention',
  'teaching',
  'hypothesis',
  'question',
  'past',
  'hearsay',
] as const;
export const ORDERS = ['command', 'rating', 'retract', 'aside', 'circumstance', 'arrive'] as const;

const HEADS = 4;
const EACH = WIDTH / HEADS;
const MARKS = 19;
const PAIR = 64;
/** A mark's own words: at least this share of a name, and not beaten by more than a hair. */
const OWN = 0.25;
const HAIR = 0.02;
const EVEN = 0.005;
/** How fast the names said before lose weight, utterance by utterance. */
const FADES = 1.5;
const FAR = 8;
const NO_OWN = 17;
const EARLIER = 18;

interface Linear {
  readonly weight: Matrix;
  readonly bias: Float32Array | null;
}

/** The words of the utterance and those before it in one row, with what was read of each. */
interface Layout {
  readonly length: number;
  readonly current: number;
  readonly lag: Uint8Array;
  readonly states: Float32Array;
  readonly best: Float32Array;
  readonly second: Float32Array;
  readonly station: Float32Array;
  readonly asks: Uint8Array;
  /** Where each utterance begins. */
  readonly from: readonly number[];
}

/** The net over one file of weights. */
export class Net {
  private readonly encoder: Encoder;
  private readonly m: (name: string) => Linear;
  private readonly markBias: Float32Array;
  private readonly markValue: Float32Array;
  private readonly relBias: Matrix;
  private readonly relValue: Matrix;
  private readonly pair: Float32Array;
  private readonly turnedRows: Readonly<Record<'g' | 'cf' | 'af' | 'pf', Float32Array>>;
  private readonly heat: (name: string) => number;
  private readonly memo = new Map<readonly TokenInput[], Float32Array>();

  constructor(weights: Weights) {
    this.encoder = new Encoder(weights);
    const made = new Map<string, Linear>();
    this.m = (name) => {
      let linear = made.get(name);
      if (linear === undefined) {
        linear = {
          weight: matrixOf(weights, `${name}.weight`),
          bias: weights.matrices.get(`${name}.bias`)?.data ?? null,
        };
        made.set(name, linear);
      }
      return linear;
    };
    const columns = (name: string): Float32Array => turned(matrixOf(weights, name));
    this.markBias = columns('mark_bias.weight');
    this.markValue = columns('mark_value.weight');
    this.relBias = matrixOf(weights, 'rel_bias.weight');
    this.relValue = matrixOf(weights, 'rel_value.weight');
    this.pair = columns('pair.weight');
    this.turnedRows = {
      g: columns('g.weight'),
      cf: columns('cf.weight'),
      af: columns('af.weight'),
      pf: columns('pf.weight'),
    };
    this.heat = (name) => weights.temperatures[name] ?? 1;
  }

  score(inputs: Inputs): Scores {
    const layout = this.lay(inputs);
    const { k, v } = this.keys(layout);
    const own = inputs.candidates.map((c) => spread(c, layout));
    const first = inputs.candidates.map((c, i) => this.look(c, own[i] as Spread, layout, k, v));
    const z = this.compete(first, inputs, own);
    const sums = runningSums(layout);
    const candidates = inputs.candidates.map((c, i) =>
      this.read(c, z[i] as Float32Array, inputs, sums, layout.states),
    );
    const last = z.at(-1) ?? new Float32Array(WIDTH);
    return { candidates, orders: [...this.apply('order', last)].map(sigmoid) };
  }

  private apply(name: string, x: Float32Array): Float32Array {
    const { weight, bias } = this.m(name);
    const out = new Float32Array(weight.rows);
    if (bias !== null) out.set(bias);
    addProduct(out, weight, x);
    return out;
  }

  /** Utterances said before were encoded when they were said, and are kept. */
  private encoded(tokens: readonly TokenInput[]): Float32Array {
    let states = this.memo.get(tokens);
    if (states === undefined) {
      states = this.encoder.encode(tokens);
      if (this.memo.size >= KEPT) this.memo.clear();
      this.memo.set(tokens, states);
    }
    return states;
  }

  private lay(inputs: Inputs): Layout {
    const rows = [inputs.tokens, ...inputs.before];
    const length = rows.reduce((n, r) => n + r.length, 0);
    const states = new Float32Array(length * WIDTH);
    const layout = {
      length,
      current: inputs.tokens.length,
      lag: new Uint8Array(length),
      states,
      best: new Float32Array(length),
      second: new Float32Array(length),
      station: new Float32Array(length),
      asks: new Uint8Array(length),
      from: [] as number[],
    };
    let at = 0;
    rows.forEach((row, lag) => {
      layout.from.push(at);
      states.set(this.encoded(row), at * WIDTH);
      row.forEach((t, i) => {
        layout.lag[at + i] = lag;
        layout.best[at + i] = t.best;
        layout.second[at + i] = t.second;
        layout.station[at + i] = t.station;
        layout.asks[at + i] = t.asks ? 1 : 0;
      });
      at += row.length;
    });
    return layout;
  }

  private keys({ length, states }: Layout): { k: Float32Array; v: Float32Array } {
    const k = new Float32Array(length * WIDTH);
    const v = new Float32Array(length * WIDTH);
    const lk = this.m('k');
    const lv = this.m('v');
    for (let i = 0; i < length; i += 1) {
      if (lk.bias !== null) k.set(lk.bias, i * WIDTH);
      if (lv.bias !== null) v.set(lv.bias, i * WIDTH);
      addProduct(k, lk.weight, states, i * WIDTH, i * WIDTH);
      addProduct(v, lv.weight, states, i * WIDTH, i * WIDTH);
    }
    return { k, v };
  }

  /** A candidate looks at the words: its own first, then those that its question finds. */
  private look(
    c: CandidateInput,
    own: Spread,
    layout: Layout,
    k: Float32Array,
    v: Float32Array,
  ): Float32Array {
    const n = layout.length;
    const lead = new Float32Array(2 * WIDTH + 64);
    for (let i = 0; i < n; i += 1) {
      const here = own.current[i] as number;
      const before = own.before[i] as number;
      if (here === 0 && before === 0) continue;
      for (let d = 0; d < WIDTH; d += 1) {
        const s = layout.states[i * WIDTH + d] as number;
        lead[d] = (lead[d] as number) + here * s;
        lead[WIDTH + d] = (lead[WIDTH + d] as number) + before * s;
      }
    }
    const g = new Float32Array(64);
    const gb = this.m('g').bias;
    if (gb !== null) g.set(gb);
    addSparse(g, this.turnedRows.g, 64, c.features);
    relu(g);
    lead.set(g, 2 * WIDTH);
    const q = this.apply('q', lead);
    const a = new Float32Array(n * HEADS);
    const most = new Float32Array(HEADS).fill(-1e9);
    const bias = new Float32Array(HEADS);
    for (let i = 0; i < n; i += 1) {
      bias.fill(0);
      addRow(bias, this.relBias, own.rel[i] as number);
      addSparse(bias, this.markBias, HEADS, own.marks.subarray(i * MARKS, (i + 1) * MARKS));
      for (let h = 0; h < HEADS; h += 1) {
        let sum = 0;
        for (let d = h * EACH; d < (h + 1) * EACH; d += 1)
          sum += (q[d] as number) * (k[i * WIDTH + d] as number);
        const x = sum / Math.sqrt(EACH) + (bias[h] as number);
        a[i * HEADS + h] = x;
        if (x > (most[h] as number)) most[h] = x;
      }
    }
    const total = new Float32Array(HEADS);
    for (let i = 0; i < n; i += 1)
      for (let h = 0; h < HEADS; h += 1) {
        const x = Math.exp((a[i * HEADS + h] as number) - (most[h] as number));
        a[i * HEADS + h] = x;
        total[h] = (total[h] as number) + x;
      }
    const all = new Float32Array(3 * WIDTH + 64);
    all.set(lead);
    const at = 2 * WIDTH + 64;
    // What the marks and distances bring is summed up first, head by head, and turned once.
    const seen = new Float32Array(MARKS);
    const far = new Float32Array(this.relValue.rows);
    for (let h = 0; h < HEADS; h += 1) {
      const from = h * EACH;
      seen.fill(0);
      far.fill(0);
      for (let i = 0; i < n; i += 1) {
        const w = (a[i * HEADS + h] as number) / (total[h] as number);
        if (w < LEAST_WEIGHT) continue;
        const row = i * WIDTH + from;
        for (let d = 0; d < EACH; d += 1)
          all[at + from + d] = (all[at + from + d] as number) + w * (v[row + d] as number);
        const r = own.rel[i] as number;
        far[r] = (far[r] as number) + w;
        for (let m = 0; m < MARKS; m += 1)
          seen[m] = (seen[m] as number) + w * (own.marks[i * MARKS + m] as number);
      }
      for (let m = 0; m < MARKS; m += 1) {
        const w = seen[m] as number;
        if (w === 0) continue;
        for (let d = 0; d < EACH; d += 1)
          all[at + from + d] =
            (all[at + from + d] as number) + w * (this.markValue[m * WIDTH + from + d] as number);
      }
      for (let r = 0; r < far.length; r += 1) {
        const w = far[r] as number;
        if (w === 0) continue;
        for (let d = 0; d < EACH; d += 1)
          all[at + from + d] =
            (all[at + from + d] as number) +
            w * (this.relValue.data[r * WIDTH + from + d] as number);
      }
    }
    const z = this.apply('o', all);
    relu(z);
    return z;
  }

  /** What one candidate takes another cannot have: each looks at all. */
  private compete(
    z: readonly Float32Array[],
    inputs: Inputs,
    own: readonly Spread[],
  ): Float32Array[] {
    const q = z.map((x) => this.apply('sq', x));
    const k = z.map((x) => this.apply('sk', x));
    const v = z.map((x) => this.apply('sv', x));
    const station = inputs.candidates.map((c) => c.member?.stationIndex ?? NOWHERE);
    const bias = new Float32Array(HEADS);
    const relation = new Float32Array(2);
    return z.map((x, i) => {
      const mixed = new Float32Array(WIDTH);
      const scores = z.map(() => new Float32Array(HEADS));
      z.forEach((_, j) => {
        relation[0] = overlap(own[i] as Spread, own[j] as Spread, inputs.tokens.length);
        relation[1] = station[i] === station[j] ? 1 : 0;
        bias.fill(0);
        addSparse(bias, this.pair, HEADS, relation);
        for (let h = 0; h < HEADS; h += 1) {
          let sum = 0;
          for (let d = h * EACH; d < (h + 1) * EACH; d += 1)
            sum += ((q[i] as Float32Array)[d] as number) * ((k[j] as Float32Array)[d] as number);
          (scores[j] as Float32Array)[h] = sum / Math.sqrt(EACH) + (bias[h] as number);
        }
      });
      for (let h = 0; h < HEADS; h += 1) {
        const shares = softmax(scores.map((s) => s[h] as number));
        shares.forEach((w, j) => {
          for (let d = h * EACH; d < (h + 1) * EACH; d += 1)
            mixed[d] = (mixed[d] as number) + w * ((v[j] as Float32Array)[d] as number);
        });
      }
      const y = this.apply('so', mixed);
      for (let d = 0; d < WIDTH; d += 1) y[d] = (y[d] as number) + (x[d] as number);
      const inner = this.apply('f1', y);
      relu(inner);
      const add = this.apply('f2', inner);
      for (let d = 0; d < WIDTH; d += 1) y[d] = (y[d] as number) + (add[d] as number);
      return y;
    });
  }

  private read(
    c: CandidateInput,
    z: Float32Array,
    inputs: Inputs,
    sums: Float32Array,
    states: Float32Array,
  ): Scored {
    const out = this.apply('out', z);
    const p = (i: number, name: string): number => sigmoid((out[i] as number) / this.heat(name));
    const cz = c.conditions.length === 0 ? null : this.apply('cz', z);
    const az = c.aspects.length === 0 ? null : this.apply('az', z);
    const pz = c.places.length === 0 ? null : this.apply('pz', z);
    const mean = new Float32Array(WIDTH);
    return {
      result: p(0, 'result'),
      good: p(1, 'good'),
      finding: p(2, 'finding'),
      value: p(3, 'value'),
      ask: p(4, 'ask'),
      talk: p(5, 'talk'),
      done: p(6, 'done'),
      amends: p(7, 'amends'),
      excepted: p(8, 'excepted'),
      forces: softmax([...this.apply('force', z)]),
      which: softmax([...this.apply('which', z)]),
      named: [...this.apply('named', z)].map(sigmoid),
      conditions: c.conditions.map((row, i) => {
        const match = inputs.conditions[i];
        const from = match?.from ?? 0;
        const to = match?.to ?? 1;
        for (let d = 0; d < WIDTH; d += 1)
          mean[d] =
            ((sums[to * WIDTH + d] as number) - (sums[from * WIDTH + d] as number)) /
            Math.max(1, to - from);
        const h = this.apply('ch', mean);
        this.pairUp(h, cz, 'cf', row);
        return softmax([...this.apply('co', h)]);
      }),
      aspects: c.aspects.map((row, i) => {
        const h = this.around('ah', c.aspectAt[i] ?? [], states);
        this.pairUp(h, az, 'af', row);
        return sigmoid(this.apply('ao', h)[0] ?? 0);
      }),
      places: c.places.map((row, i) => {
        const h = this.around('ph', c.placeAt[i] ?? [], states);
        this.pairUp(h, pz, 'pf', row);
        const [meant = 0, good = 0, finding = 0] = [...this.apply('po', h)].map(sigmoid);
        return { meant, good, finding };
      }),
    };
  }

  /** What the words at these places say, on the way to a pair's score; nought where there are none. */
  private around(name: string, at: readonly number[], states: Float32Array): Float32Array {
    if (at.length === 0) return new Float32Array(PAIR);
    const mean = new Float32Array(WIDTH);
    for (const i of at)
      for (let d = 0; d < WIDTH; d += 1)
        mean[d] = (mean[d] as number) + (states[i * WIDTH + d] as number) / at.length;
    return this.apply(name, mean);
  }

  private pairUp(
    h: Float32Array,
    z: Float32Array | null,
    name: 'cf' | 'af' | 'pf',
    row: readonly number[],
  ): void {
    const bias = this.m(name).bias;
    for (let d = 0; d < PAIR; d += 1) h[d] = (h[d] as number) + (z?.[d] ?? 0) + (bias?.[d] ?? 0);
    addSparse(h, this.turnedRows[name], PAIR, row);
    relu(h);
  }
}

const NOWHERE = 255;
/** A word looked at less than this changes nothing that is seen. */
const LEAST_WEIGHT = 1e-4;
/** Utterances whose words stay encoded; above this the memo starts afresh. */
const KEPT = 64;

/** A candidate's marks over the layout. */
interface Spread {
  readonly marks: Float32Array;
  readonly rel: Uint8Array;
  /** Weights of its own words now and before; each adds up to about one. */
  readonly current: Float32Array;
  readonly before: Float32Array;
}

function spread(c: CandidateInput, layout: Layout): Spread {
  const n = layout.length;
  const marks = new Float32Array(n * MARKS);
  const name = new Float32Array(n);
  const meaning = new Float32Array(n);
  const flags = new Uint8Array(n);
  for (const mark of c.marks) {
    const from = layout.from[mark.lag];
    if (from === undefined) continue;
    const i = from + mark.token;
    name[i] = mark.name;
    meaning[i] = mark.meaning;
    flags[i] = mark.flags;
  }
  const current = new Float32Array(n);
  const before = new Float32Array(n);
  const own = new Uint8Array(n);
  let here = 0;
  let then = 0;
  for (let i = 0; i < n; i += 1) {
    const x = name[i] as number;
    const best = layout.best[i] as number;
    const second = layout.second[i] as number;
    const station = layout.station[i] as number;
    const other = x >= best - EVEN ? second : best;
    const mine = x > OWN && x >= best - HAIR;
    const lag = layout.lag[i] as number;
    own[i] = mine ? 1 : 0;
    const at = i * MARKS;
    marks[at] = x;
    marks[at + 1] = other;
    marks[at + 2] = station;
    for (let b = 0; b < 6; b += 1) marks[at + 3 + b] = ((flags[i] as number) >> b) & 1;
    marks[at + 9] = x >= 0.97 ? 1 : 0;
    marks[at + 10] = mine ? 1 : 0;
    marks[at + 11] = other > x + 0.01 ? 1 : 0;
    marks[at + 12] = other >= 0.9 ? 1 : 0;
    marks[at + 13] = lag === 0 ? 1 : 0;
    marks[at + 14] = layout.asks[i] as number;
    marks[at + 15] = meaning[i] as number;
    if (lag > 0) marks[at + 15 + lag] = 1;
    if (!mine) continue;
    if (lag === 0) {
      current[i] = x;
      here += x;
    } else {
      before[i] = x * Math.exp(-FADES * (lag - 1));
      then += before[i] as number;
    }
  }
  for (let i = 0; i < n; i += 1) {
    current[i] = (current[i] as number) / (here + 1e-3);
    before[i] = (before[i] as number) / (then + 1e-3);
  }
  return { marks, rel: distances(own, layout), current, before };
}

/** How far each word is from the candidate's nearest own word, words behind it positive. */
function distances(own: Uint8Array, layout: Layout): Uint8Array {
  const rel = new Uint8Array(layout.length);
  const n = layout.current;
  let last = -1;
  const behind = new Int32Array(n).fill(-1);
  for (let i = 0; i < n; i += 1) {
    if (own[i] === 1) last = i;
    behind[i] = last;
  }
  let next = -1;
  for (let i = n - 1; i >= 0; i -= 1) {
    if (own[i] === 1) next = i;
    const back = behind[i] as number;
    const dl = back < 0 ? Infinity : i - back;
    const dn = next < 0 ? Infinity : next - i;
    if (dl === Infinity && dn === Infinity) rel[i] = NO_OWN;
    else rel[i] = Math.max(-FAR, Math.min(FAR, dl <= dn ? dl : -dn)) + FAR;
  }
  for (let i = n; i < layout.length; i += 1) rel[i] = EARLIER + (layout.lag[i] as number);
  return rel;
}

/** How much two candidates rest on the same words. */
function overlap(a: Spread, b: Spread, n: number): number {
  let sum = 0;
  for (let i = 0; i < n; i += 1) sum += (a.current[i] as number) * (b.current[i] as number);
  return sum;
}

/** Sums of the states up to each word of the utterance: [words + 1 × WIDTH]. */
function runningSums(layout: Layout): Float32Array {
  const sums = new Float32Array((layout.current + 1) * WIDTH);
  for (let i = 0; i < layout.current; i += 1)
    for (let d = 0; d < WIDTH; d += 1)
      sums[(i + 1) * WIDTH + d] =
        (sums[i * WIDTH + d] as number) + (layout.states[i * WIDTH + d] as number);
  return sums;
}
