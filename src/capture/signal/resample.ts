/**
 * Change of sampling rate by a windowed sinc (Hann window over 2 × ZEROS zero
 * crossings of the lower rate). Streams: what is given in pieces comes out the
 * same as given at once.
 */
const ZEROS = 16;
/** Share of the lower Nyquist frequency that is kept; the rest is the filter's slope. */
const KEPT = 0.94;
/** Steps between two input samples at which the filter is tabulated; nearer than 16-bit sound needs. */
const STEPS = 256;

export interface Resampler {
  /** Samples at the new rate that the input so far allows. */
  push(samples: Float32Array): Float32Array;
  /** The rest, as if silence followed. */
  flush(): Float32Array;
}

export function createResampler(from: number, to: number): Resampler {
  if (from === to) return { push: (samples) => samples, flush: () => new Float32Array(0) };
  const cut = Math.min(1, to / from) * KEPT;
  const half = Math.ceil(ZEROS / cut);
  const table = new Float32Array(half * STEPS + 2);
  for (let i = 0; i < table.length; i++) {
    const x = i / STEPS;
    const angle = Math.PI * x * cut;
    const sinc = i === 0 ? 1 : Math.sin(angle) / angle;
    const window = x >= half ? 0 : 0.5 + 0.5 * Math.cos((Math.PI * x) / half);
    table[i] = sinc * window * cut;
  }
  /** Input not yet done with; its first sample has the number `first`. */
  let held = new Float32Array(half);
  let first = -half;
  let next = 0;
  let taken = 0;

  function run(limit: number): Float32Array {
    const out: number[] = [];
    for (; ; next++) {
      const at = (next * from) / to;
      if (at >= limit) break;
      const middle = Math.floor(at);
      let sum = 0;
      for (let i = middle - half + 1; i <= middle + half; i++) {
        const sample = held[i - first];
        if (sample === undefined || sample === 0) continue;
        sum += sample * (table[Math.round(Math.abs(at - i) * STEPS)] ?? 0);
      }
      out.push(sum);
    }
    const keep = Math.max(0, Math.floor((next * from) / to) - half - first);
    if (keep > 0) {
      held = held.slice(Math.min(keep, held.length));
      first += keep;
    }
    return Float32Array.from(out);
  }

  return {
    push(samples) {
      const all = new Float32Array(held.length + samples.length);
      all.set(held);
      all.set(samples, held.length);
      held = all;
      taken += samples.length;
      return run(taken - half);
    },
    flush() {
      return run(taken);
    },
  };
}

/** The whole of a sound at another rate. */
export function resample(samples: Float32Array, from: number, to: number): Float32Array {
  if (from === to) return samples;
  const resampler = createResampler(from, to);
  const head = resampler.push(samples);
  const tail = resampler.flush();
  const all = new Float32Array(head.length + tail.length);
  all.set(head);
  all.set(tail, head.length);
  return all;
}
