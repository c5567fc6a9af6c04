import { WIDTH } from './encoder.ts';
import type { CandidateInput } from './around.ts';

/** Where the words stand, and what each of them is to one candidate. */

export const MARKS = 19;
/** A mark's own words: at least this share of a name, and not beaten by more than a hair. */
const OWN = 0.25;
const HAIR = 0.02;
const EVEN = 0.005;
/** How fast the names said before lose weight, utterance by utterance. */
const FADES = 1.5;
const FAR = 8;
const NO_OWN = 17;
const EARLIER = 18;

/** The words of the utterance and those before it in one row, with what was read of each. */
export interface Layout {
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

/** A candidate's marks over the layout. */
export interface Spread {
  readonly marks: Float32Array;
  /** Which marks of each word are not nought; `from` says where each word's begin. */
  readonly on: Uint8Array;
  readonly from: Uint16Array;
  readonly rel: Uint8Array;
  /** Weights of its own words now and before; each adds up to about one. */
  readonly current: Float32Array;
  readonly before: Float32Array;
}

export function spread(c: CandidateInput, layout: Layout): Spread {
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
  return { marks, ...standing(marks, n), rel: distances(own, layout), current, before };
}

/** Few marks stand at a word: they are listed once, and looked at for every head. */
function standing(marks: Float32Array, n: number): Pick<Spread, 'on' | 'from'> {
  const on: number[] = [];
  const from = new Uint16Array(n + 1);
  for (let i = 0; i < n; i += 1) {
    for (let m = 0; m < MARKS; m += 1) if (marks[i * MARKS + m] !== 0) on.push(m);
    from[i + 1] = on.length;
  }
  return { on: Uint8Array.from(on), from };
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

/** Sums of the states up to each word of the utterance: [words + 1 × WIDTH]. */
export function runningSums(layout: Layout): Float32Array {
  const sums = new Float32Array((layout.current + 1) * WIDTH);
  for (let i = 0; i < layout.current; i += 1)
    for (let d = 0; d < WIDTH; d += 1)
      sums[(i + 1) * WIDTH + d] =
        (sums[i * WIDTH + d] as number) + (layout.states[i * WIDTH + d] as number);
  return sums;
}
