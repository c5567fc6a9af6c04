import { createFft } from './fft.ts';

/**
 * Cuts a stream of sound into utterances. Loudness alone fails beside an
 * engine, so each frame is judged by how far its strongest bands rise above
 * that band's own noise, which is tracked while nobody speaks.
 *
 * A false start costs a little computing, because the decoder then finds no
 * words; a missed word may lose a finding. All thresholds lean to hearing more.
 */
export interface Utterance {
  readonly samples: Float32Array;
  /** Seconds from the begin of the stream. */
  readonly from: number;
  readonly to: number;
  /** When the last speech frame ended; `to` may lie a little after it. */
  readonly voiceEnd: number;
}

export interface SegmentEvents {
  begun?(from: number): void;
  /** Sound of the running utterance, as it comes. */
  sound?(samples: Float32Array): void;
  /** Silence within the utterance reached `PROVISIONAL`: it may be over. */
  maybeEnded?(utterance: Utterance): void;
  /** It was not over. */
  wentOn?(): void;
  ended(utterance: Utterance): void;
}

export interface Segmenter {
  push(samples: Float32Array): void;
  /** End of the stream: what is being said goes out. */
  flush(): void;
  /** Is somebody speaking now? */
  readonly speaking: boolean;
}

/** Seconds of silence after which an utterance is over: shorter cuts sentences in two, longer delays every answer. */
export const HANGOVER = 0.36;
/** Seconds of silence after which it is worth decoding in advance. */
export const PROVISIONAL = 0.24;
/** Seconds kept before the first speech frame: the first consonant is often below the noise. */
export const LEAD = 0.45;
/** Seconds kept after the last. */
export const TAIL = 0.3;
/** Longest utterance; then it is cut at its quietest late moment, so that nothing waits without end. */
const LONGEST = 12;
const HOP_SECONDS = 0.01;
const BANDS = 16;
/** Bands that decide: a voice is strong in a third of them at a time. */
const STRONGEST = 5;
/** Decibels over the noise at which a frame is speech. */
const RISE = 6.5;
/** Decibels at which it still is, within an utterance. */
const FALL = 4.5;
/** Power of the loudest frame over the faintest that is still speech: 50 dB, the rest is the room. */
const RANGE = 100_000;
/** Speech frames within START_WINDOW frames that begin an utterance: a click is shorter. */
const START_FRAMES = 6;
const START_WINDOW = 12;
/** Power below which nothing is speech: about -66 dB of full scale, under the quietest talk into a headset. */
const FLOOR = 2.5e-7;
/**
 * Frames in each of which a band's lowest power is kept, and how many of those: 2.4 s in all.
 * In so long a time every band of a voice falls back to the noise at least once, so that what
 * it never fell under is noise. Shorter, the words of somebody who hardly breathes count as
 * noise; longer, more of what is said after a generator starts runs into one piece.
 */
const LOW_FRAMES = 20;
const LOWS = 12;
/**
 * Memory of the power whose lowest is kept, some 60 ms: without it a noise that sways has a
 * lowest far under itself. Longer, or with the lowest taken 1 dB and more too high, up to a
 * fifth of unbroken speech at 5 dB counted as noise.
 */
const LOW_MEMORY = 0.85;
/**
 * Most that a noise is taken to sway by because the rise never fell lower in that time, in
 * decibels. At 3 dB 6 % more of unbroken speech at 5 dB was lost, at 4 dB 14 %; at 2 dB a
 * rotor that begins takes more of what is said over it into one piece.
 */
const LOWEST_SWAY = 2.5;

export function createSegmenter(rate: number, events: SegmentEvents): Segmenter {
  const hop = Math.round(rate * HOP_SECONDS);
  const size = 2 ** Math.round(Math.log2(rate * 0.032));
  const detector = createDetector(rate, size);
  /** Sound from sample number `first` on. */
  let held = new Float32Array(0);
  let first = 0;
  let next = 0;
  let began: number | null = null;
  let lastVoice = 0;
  let provisional = false;
  let told = 0;
  let recent: boolean[] = [];
  /** Quietest late moment of a long utterance: where it may be cut. */
  let quietAt = 0;
  let quietest = Infinity;
  /** Power of the loudest frame of the utterance. */
  let loudest = 0;

  function take(from: number, to: number): Float32Array {
    return held.slice(Math.max(0, from - first), Math.max(0, to - first));
  }

  function utterance(to: number): Utterance {
    const from = began ?? 0;
    return {
      samples: take(from, to),
      from: from / rate,
      to: to / rate,
      voiceEnd: Math.min(lastVoice, to) / rate,
    };
  }

  function tellSound(to: number): void {
    if (events.sound !== undefined && to > told) events.sound(take(told, to));
    told = Math.max(told, to);
  }

  function end(to: number): void {
    tellSound(to);
    const done = utterance(to);
    began = null;
    provisional = false;
    recent = [];
    events.ended(done);
  }

  function frame(at: number): void {
    const { rise, power } = detector.judge(
      held.subarray(at - first, at - first + size),
      began !== null,
    );
    const middle = at + size / 2;
    if (began === null) {
      recent.push(rise >= RISE);
      if (recent.length > START_WINDOW) recent.shift();
      if (recent.filter(Boolean).length < START_FRAMES) return;
      began = Math.max(first, middle - START_WINDOW * hop - Math.round(LEAD * rate));
      lastVoice = middle;
      told = began;
      quietest = Infinity;
      loudest = power;
      events.begun?.(began / rate);
      return;
    }
    loudest = Math.max(loudest, power);
    if (rise >= FALL && power > loudest / RANGE) {
      lastVoice = middle;
      if (provisional) {
        provisional = false;
        events.wentOn?.();
      }
    }
    const silent = (middle - lastVoice) / rate;
    const long = (middle - began) / rate;
    if (long > LONGEST * 0.6 && rise < quietest) {
      quietest = rise;
      quietAt = middle;
    }
    if (silent >= HANGOVER) {
      end(Math.min(at + size, lastVoice + Math.round(TAIL * rate)));
    } else if (silent >= PROVISIONAL && !provisional) {
      provisional = true;
      events.maybeEnded?.(utterance(Math.min(at + size, lastVoice + Math.round(TAIL * rate))));
    } else if (long >= LONGEST) {
      const cut = quietAt;
      const stillSpeaking = lastVoice;
      end(cut);
      began = cut;
      told = cut;
      lastVoice = Math.max(cut, stillSpeaking);
      quietest = Infinity;
      events.begun?.(cut / rate);
    }
  }

  return {
    push(samples) {
      const all = new Float32Array(held.length + samples.length);
      all.set(held);
      all.set(samples, held.length);
      held = all;
      while (next + size <= first + held.length) {
        frame(next);
        next += hop;
      }
      if (began !== null) tellSound(first + held.length);
      const keepFrom = Math.max(
        first,
        Math.min(next, began ?? next - Math.round((LEAD + 0.3) * rate)),
      );
      held = held.slice(keepFrom - first);
      first = keepFrom;
    },
    flush() {
      if (began !== null) end(first + held.length);
    },
    get speaking() {
      return began !== null;
    },
  };
}

/** How far the strongest bands of a frame rise over their noise, in decibels, evened over 30 ms. */
function createDetector(rate: number, size: number) {
  const fft = createFft(size);
  const window = Float64Array.from(
    { length: size },
    (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / size),
  );
  const edges = bandEdges(rate, size);
  const noise = new Float64Array(BANDS);
  const even = new Float64Array(BANDS);
  /** The same evened over longer, behind it the rise, and their lowest in each of the last stretches of frames. */
  const slow = new Float64Array(BANDS + 1);
  let lows: Float64Array[] = [];
  /** Rise of the noise itself, whose loudness sways: a rotor's more than a fan's. */
  let sway = 2;
  let frames = 0;

  /** Least that was there in as long as is looked back, evened; none before that. */
  function lowest(at: number, value: number): number {
    const memory = frames === 1 ? 0 : LOW_MEMORY;
    slow[at] = memory * (slow[at] as number) + (1 - memory) * value;
    const now = lows.at(-1) as Float64Array;
    now[at] = Math.min(now[at] as number, slow[at]);
    if (lows.length < LOWS) return 0;
    return lows.reduce((least, low) => Math.min(least, low[at] as number), Infinity);
  }

  return {
    judge(samples: Float32Array, speaking: boolean): { rise: number; power: number } {
      const re = new Float64Array(size);
      const im = new Float64Array(size);
      for (let i = 0; i < size; i++) re[i] = (samples[i] ?? 0) * (window[i] as number);
      fft.forward(re, im);
      const rises: number[] = [];
      let total = 0;
      if (frames % LOW_FRAMES === 0)
        lows = [...lows, new Float64Array(BANDS + 1).fill(Infinity)].slice(-LOWS);
      frames++;
      for (let band = 0; band < BANDS; band++) {
        let sum = 0;
        for (let b = edges[band] as number; b < (edges[band + 1] as number); b++)
          sum += (re[b] as number) ** 2 + (im[b] as number) ** 2;
        total += sum;
        const floored = sum + FLOOR * size * 2;
        const smooth = frames === 1 ? floored : 0.6 * (even[band] as number) + 0.4 * floored;
        even[band] = smooth;
        const n = noise[band] as number;
        if (frames === 1) noise[band] = smooth;
        // The first frames are taken for noise unless they fall; later it rises slowly.
        else if (frames < 20) noise[band] = 0.85 * n + 0.15 * smooth;
        else if (smooth < n) noise[band] = 0.93 * n + 0.07 * smooth;
        else noise[band] = n * (speaking ? 1.0008 : 1.004);
        // Noise that begins at once and stays would be speech for a minute at that pace.
        noise[band] = Math.max(noise[band] as number, lowest(band, floored));
        rises.push(10 * Math.log10(smooth / (noise[band] as number)));
      }
      const strongest = rises.sort((a, b) => b - a).slice(0, STRONGEST);
      const mean = strongest.reduce((a, b) => a + b, 0) / STRONGEST;
      if (!speaking && mean < sway + RISE) sway += 0.01 * (Math.max(0, mean) - sway);
      sway = Math.max(sway, Math.min(LOWEST_SWAY, lowest(BANDS, mean)));
      const rise = total < FLOOR * size * 4 ? 0 : mean - Math.min(6, sway);
      return { rise, power: total };
    },
  };
}

/** Bands of even width on the mel scale (O'Shaughnessy 1987) between 200 and 3,600 Hz, as numbers of bins. */
function bandEdges(rate: number, size: number): number[] {
  const mel = (f: number) => 2595 * Math.log10(1 + f / 700);
  const hertz = (m: number) => 700 * (10 ** (m / 2595) - 1);
  const low = mel(200);
  const high = mel(Math.min(3600, rate / 2));
  return Array.from({ length: BANDS + 1 }, (_, i) =>
    Math.round((hertz(low + ((high - low) * i) / BANDS) * size) / rate),
  );
}
