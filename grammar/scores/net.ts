import { Encoder, matrixOf, WIDTH } from './encoder.ts';
import type { CandidateInput, Inputs, TokenInput } from './around.ts';
import { addHead, attention, EACH, gather, HEADS, padded } from './attention.ts';
import {
  addSparse,
  product,
  relu,
  sigmoid,
  softmax,
  times,
  turned,
  type Linear,
} from './linear.ts';
import { FORCES, ORDERS, type Scored, type Scores } from './scored.ts';
import { MARKS, runningSums, spread, type Layout, type Spread } from './spread.ts';
import type { Matrix, Weights } from './weights.ts';

const PAIR = 64;

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
  private readonly knows: (name: string) => boolean;
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
    this.knows = (name) => weights.matrices.has(name);
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
    const n = inputs.candidates.length;
    const own = inputs.candidates.map((c) => spread(c, layout));
    const z = this.compete(this.look(inputs.candidates, own, layout), inputs, own);
    const sums = runningSums(layout);
    const all = {
      out: this.apply('out', z, n),
      force: this.apply('force', z, n),
      which: this.apply('which', z, n),
      named: this.apply('named', z, n),
      cz: this.apply('cz', z, n),
      az: this.apply('az', z, n),
      pz: this.apply('pz', z, n),
    };
    const spans = this.spans(inputs, sums);
    const candidates = inputs.candidates.map((c, i) => this.read(c, i, all, spans, layout.states));
    const last = z.subarray((n - 1) * WIDTH);
    const orders = [...this.apply('order', last, 1)].map(sigmoid).slice(0, ORDERS.length);
    return { candidates, orders, ratings: this.rated(layout) };
  }

  /** How bad it is said to be: by what stands out anywhere among the words. Empty where it was not learned. */
  private rated({ states, current }: Layout): number[] {
    if (!this.knows('rate_out.weight') || current === 0) return [];
    const seen = this.apply('rate_seen', states.subarray(0, current * WIDTH), current);
    const wide = seen.length / current;
    // Nothing stands out below nought.
    const most = new Float32Array(wide);
    for (let i = 0; i < seen.length; i += 1)
      most[i % wide] = Math.max(most[i % wide] as number, seen[i] as number);
    const hidden = this.apply('rate_hidden', most, 1);
    relu(hidden);
    return [...this.apply('rate_out', hidden, 1)].map(sigmoid);
  }

  /** n rows through a layer. */
  private apply(name: string, x: Float32Array, n: number): Float32Array {
    return times(this.m(name), x, n);
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

  /** Every candidate looks at the words: its own first, then those that its question finds. */
  private look(
    candidates: readonly CandidateInput[],
    own: readonly Spread[],
    layout: Layout,
  ): Float32Array {
    const n = layout.length;
    const { states } = layout;
    const k = this.apply('k', states, n);
    const v = this.apply('v', states, n);
    const wide = 2 * WIDTH + GLOBAL;
    const lead = new Float32Array(candidates.length * wide);
    const g = this.m('g').bias;
    candidates.forEach((c, i) => {
      const { current, before } = own[i] as Spread;
      const at = i * wide;
      for (let t = 0; t < n; t += 1) {
        const here = current[t] as number;
        const then = before[t] as number;
        if (here === 0 && then === 0) continue;
        for (let d = 0; d < WIDTH; d += 1) {
          const s = states[t * WIDTH + d] as number;
          lead[at + d] = (lead[at + d] as number) + here * s;
          lead[at + WIDTH + d] = (lead[at + WIDTH + d] as number) + then * s;
        }
      }
      if (g !== null) lead.set(g, at + 2 * WIDTH);
      addSparse(lead, this.turnedRows.g, GLOBAL, c.features, at + 2 * WIDTH);
      for (let d = at + 2 * WIDTH; d < at + wide; d += 1) if ((lead[d] as number) < 0) lead[d] = 0;
    });
    const q = this.apply('q', lead, candidates.length);
    const all = new Float32Array(candidates.length * (wide + WIDTH));
    candidates.forEach((_, i) => {
      all.set(lead.subarray(i * wide, (i + 1) * wide), i * (wide + WIDTH));
    });
    this.attend(own, q, k, v, n, all, wide + WIDTH, wide);
    const z = this.apply('o', all, candidates.length);
    relu(z);
    return z;
  }

  /** Adds what each candidate sees of n words, head by head: out[candidate · wide + at …]. */
  private attend(
    own: readonly Spread[],
    q: Float32Array,
    k: Float32Array,
    v: Float32Array,
    n: number,
    out: Float32Array,
    wide: number,
    at: number,
  ): void {
    const rels = this.relValue.rows;
    // What the marks and distances bring is summed up first and turned once.
    const seen = new Float32Array(MARKS);
    const far = new Float32Array(rels);
    for (let h = 0; h < HEADS; h += 1) {
      const head = h * EACH;
      const bias = (i: number, t: number): number => {
        const { marks, on, from, rel } = own[i] as Spread;
        let x = this.relBias.data[(rel[t] as number) * HEADS + h] as number;
        for (let m = from[t] as number; m < (from[t + 1] as number); m += 1) {
          const mark = on[m] as number;
          x += (marks[t * MARKS + mark] as number) * (this.markBias[mark * HEADS + h] as number);
        }
        return x;
      };
      const a = attention(q, own.length, k, n, h, bias);
      gather(a, own.length, v, n, h, out, wide, at);
      const span = padded(n);
      own.forEach(({ marks, on, from, rel }, i) => {
        seen.fill(0);
        far.fill(0);
        for (let t = 0; t < n; t += 1) {
          const w = a[i * span + t] as number;
          if (w < LEAST_WEIGHT) continue;
          const r = rel[t] as number;
          far[r] = (far[r] as number) + w;
          for (let m = from[t] as number; m < (from[t + 1] as number); m += 1) {
            const mark = on[m] as number;
            seen[mark] = (seen[mark] as number) + w * (marks[t * MARKS + mark] as number);
          }
        }
        const to = i * wide + at + head;
        addHead(out, to, seen, this.markValue, head);
        addHead(out, to, far, this.relValue.data, head);
      });
    }
  }

  /** What one candidate takes another cannot have: each looks at all. */
  private compete(z: Float32Array, inputs: Inputs, own: readonly Spread[]): Float32Array {
    const n = own.length;
    const q = this.apply('sq', z, n);
    const k = this.apply('sk', z, n);
    const v = this.apply('sv', z, n);
    const station = inputs.candidates.map((c) => c.member?.stationIndex ?? NOWHERE);
    const words = inputs.tokens.length;
    const width = padded(words);
    const current = new Float32Array(n * width);
    own.forEach((o, i) => {
      current.set(o.current.subarray(0, words), i * width);
    });
    // How much two candidates rest on the same words.
    const shared = product(current, n, width, current, n);
    const mixed = new Float32Array(n * WIDTH);
    for (let h = 0; h < HEADS; h += 1) {
      const same = this.pair[HEADS + h] as number;
      const a = attention(
        q,
        n,
        k,
        n,
        h,
        (i, j) =>
          (shared[i * n + j] as number) * (this.pair[h] as number) +
          (station[i] === station[j] ? same : 0),
      );
      gather(a, n, v, n, h, mixed, WIDTH, 0);
    }
    const y = this.apply('so', mixed, n);
    for (let d = 0; d < y.length; d += 1) y[d] = (y[d] as number) + (z[d] as number);
    const inner = this.apply('f1', y, n);
    relu(inner);
    const more = this.apply('f2', inner, n);
    for (let d = 0; d < y.length; d += 1) y[d] = (y[d] as number) + (more[d] as number);
    return y;
  }

  /** What the words of each condition match say, on the way to its pairs. */
  private spans(inputs: Inputs, sums: Float32Array): Float32Array {
    const rows = inputs.conditions;
    const mean = new Float32Array(rows.length * WIDTH);
    rows.forEach(({ from, to }, i) => {
      for (let d = 0; d < WIDTH; d += 1)
        mean[i * WIDTH + d] =
          ((sums[to * WIDTH + d] as number) - (sums[from * WIDTH + d] as number)) /
          Math.max(1, to - from);
    });
    return this.apply('ch', mean, rows.length);
  }

  private read(
    c: CandidateInput,
    i: number,
    all: Readonly<Record<'out' | 'force' | 'which' | 'named' | 'cz' | 'az' | 'pz', Float32Array>>,
    spans: Float32Array,
    states: Float32Array,
  ): Scored {
    const row = (x: Float32Array, width: number): Float32Array =>
      x.subarray(i * width, (i + 1) * width);
    const out = row(all.out, OUTS);
    const p = (k: number, name: string): number => sigmoid((out[k] as number) / this.heat(name));
    const conditions = this.pairs('cf', spans, row(all.cz, PAIR), c.conditions);
    const aspects = this.pairs(
      'af',
      this.around('ah', c.aspectAt, states),
      row(all.az, PAIR),
      c.aspects,
    );
    const places = this.pairs(
      'pf',
      this.around('ph', c.placeAt, states),
      row(all.pz, PAIR),
      c.places,
    );
    const named = this.m('named').weight.rows;
    const co = this.apply('co', conditions, c.conditions.length);
    const po = this.apply('po', places, c.places.length);
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
      forces: softmax([...row(all.force, FORCES.length)]),
      which: softmax([...row(all.which, 3)]),
      named: [...row(all.named, named)].map(sigmoid),
      conditions: c.conditions.map((_, k) => softmax([...co.subarray(3 * k, 3 * k + 3)])),
      aspects: [...this.apply('ao', aspects, c.aspects.length)].map(sigmoid),
      places: c.places.map((_, k) => ({
        meant: sigmoid(po[3 * k] as number),
        good: sigmoid(po[3 * k + 1] as number),
        finding: sigmoid(po[3 * k + 2] as number),
      })),
    };
  }

  /** What the words at these places say, on the way to a pair's score; nought where there are none. */
  private around(
    name: 'ah' | 'ph',
    at: readonly (readonly number[])[],
    states: Float32Array,
  ): Float32Array {
    const mean = new Float32Array(at.length * WIDTH);
    let any = false;
    at.forEach((tokens, k) => {
      for (const t of tokens) {
        any = true;
        for (let d = 0; d < WIDTH; d += 1)
          mean[k * WIDTH + d] =
            (mean[k * WIDTH + d] as number) + (states[t * WIDTH + d] as number) / tokens.length;
      }
    });
    return any ? this.apply(name, mean, at.length) : new Float32Array(at.length * PAIR);
  }

  /** The hidden rows of a candidate's pairs: what the words, the candidate and the features say together. */
  private pairs(
    name: 'cf' | 'af' | 'pf',
    words: Float32Array,
    z: Float32Array,
    rows: readonly (readonly number[])[],
  ): Float32Array {
    const h = new Float32Array(rows.length * PAIR);
    const bias = this.m(name).bias;
    rows.forEach((row, k) => {
      for (let d = 0; d < PAIR; d += 1)
        h[k * PAIR + d] = (words[k * PAIR + d] as number) + (z[d] as number) + (bias?.[d] ?? 0);
      addSparse(h, this.turnedRows[name], PAIR, row, k * PAIR);
    });
    relu(h);
    return h;
  }
}

const NOWHERE = 255;
/** Scores of a candidate, and width of what its features say. */
const OUTS = 9;
const GLOBAL = 64;
/** A word looked at less than this changes nothing that is seen. */
const LEAST_WEIGHT = 1e-4;
/** Utterances whose words stay encoded; above this the memo starts afresh. */
const KEPT = 64;
