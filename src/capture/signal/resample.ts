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
    // As many as lie before the limit: an array that grows would take four times the room.
    const out = new Float32Array(Math.max(0, Math.ceil((limit * to) / from) - next + 1));
    let made = 0;
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
      out[made++] = sum;
    }
    const keep = Math.max(0, Math.floor((next * from) / to) - half - first);
    if (keep > 0) {
      held = held.slice(Math.min(keep, held.length));
      first += keep;
    }
    return out.slice(0, made);
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

/** Samples that are taken at a time, so that what is held beside the result stays small. */
const PIECE = 1 << 16;

/**
 * Collects sound that comes in pieces and channels as mono at one rate.
 *
 * @param length how many samples will come, where it is known; room is then taken once.
 */
export function createMixer(from: number, to: number, length = PIECE): Mixer {
  const resampler = createResampler(from, to);
  const room = (samples: number) => Math.ceil((samples * to) / from) + 1;
  let all = new Float32Array(room(length));
  let made = 0;
  let taken = 0;
  function keep(part: Float32Array): void {
    if (made + part.length > all.length) {
      const more = new Float32Array(Math.max(all.length * 2, made + part.length));
      more.set(all.subarray(0, made));
      all = more;
    }
    all.set(part, made);
    made += part.length;
  }
  return {
    get taken() {
      return taken;
    },
    push(channels) {
      const first = channels[0];
      if (first === undefined || first.length === 0) return;
      for (let at = 0; at < first.length; at += PIECE) {
        const mono = new Float32Array(Math.min(PIECE, first.length - at));
        for (const channel of channels)
          for (let i = 0; i < mono.length; i++)
            mono[i] = (mono[i] ?? 0) + (channel[at + i] ?? 0) / channels.length;
        keep(resampler.push(mono));
      }
      taken += first.length;
    },
    end() {
      keep(resampler.flush());
      return all.subarray(0, made);
    },
  };
}

export interface Mixer {
  /** One array a channel, all equally long. */
  push(channels: readonly Float32Array[]): void;
  /** Samples so far, at the rate that they come in. */
  readonly taken: number;
  end(): Float32Array;
}

/** The whole of a sound at another rate. */
export function resample(samples: Float32Array, from: number, to: number): Float32Array {
  if (from === to) return samples;
  const mixer = createMixer(from, to, samples.length);
  mixer.push([samples]);
  return mixer.end();
}
