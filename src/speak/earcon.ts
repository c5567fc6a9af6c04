/*
 * Earcons as data: what they are made of, so that a test can hold them against
 * the sources without ears.
 *
 * Sources: MIL-STD-1472E, signals between 500 and 3,000 Hz; FAA human-factors
 * training page, four or more components in 1,000 to 4,000 Hz. Both together:
 * four components between 1,000 and 3,000 Hz in every note. Besides, one below
 * 1,000 Hz for people who hear no high notes (common practice, no source). The
 * levels that both ask for over the noise (20 dB, about 15 dB) are the device's
 * volume and the headset's, and cannot be promised here.
 */

import { TONE_WORDS, type Tone } from '#shared/replied';

export type EarconName = Tone;

/** One note. Times in seconds from the begin of the earcon, pitch in Hz; a glide when the two differ. */
export interface Note {
  readonly at: number;
  readonly seconds: number;
  readonly from: number;
  readonly to: number;
}

export interface Earcon {
  readonly name: EarconName;
  /** As the help screen names it. */
  readonly means: string;
  readonly notes: readonly Note[];
  /** Milliseconds on, off, on, … */
  readonly vibration: readonly number[];
}

export const LOWEST = 500;
export const HIGHEST = 3000;
/** Partials of a note as multiples of its pitch; those above HIGHEST are left out. */
export const PARTIALS: readonly number[] = [1, 1.5, 2, 2.5, 3, 4];

function note(at: number, seconds: number, from: number, to = from): Note {
  return { at, seconds, from, to };
}

/*
 * Told apart by rhythm (number and length of notes), by contour (level, rising,
 * falling, gliding) and by pitch, so that losing one of the three in noise
 * leaves two.
 */
export const EARCONS: Readonly<Record<EarconName, Earcon>> = {
  understood: {
    name: 'understood',
    means: TONE_WORDS.understood,
    notes: [note(0, 0.09, 760)],
    vibration: [30],
  },
  finding: {
    name: 'finding',
    means: TONE_WORDS.finding,
    notes: [note(0, 0.2, 980), note(0.24, 0.09, 760), note(0.37, 0.09, 590)],
    vibration: [120, 60, 60, 60, 60],
  },
  question: {
    name: 'question',
    means: TONE_WORDS.question,
    notes: [note(0, 0.09, 600), note(0.15, 0.28, 720, 1000)],
    vibration: [60, 60, 200],
  },
  'not-understood': {
    name: 'not-understood',
    means: TONE_WORDS['not-understood'],
    notes: [note(0, 0.15, 520), note(0.27, 0.15, 520)],
    vibration: [150, 120, 150],
  },
  stopped: {
    name: 'stopped',
    means: TONE_WORDS.stopped,
    notes: [note(0, 0.5, 1000, 500), note(0.6, 0.5, 500)],
    vibration: [500, 100, 500],
  },
};

/** Frequencies of a note's components at its begin or end, Hz. */
export function componentsOf(pitch: number): number[] {
  return PARTIALS.map((p) => p * pitch).filter((hz) => hz <= HIGHEST);
}

/** Seconds from the begin of the first note to the end of the last. */
export function secondsOf(earcon: Earcon): number {
  return Math.max(...earcon.notes.map((n) => n.at + n.seconds));
}

/** Seconds in which a note swells and dies away: short enough to be crisp, long enough not to click. */
const SWELL = 0.008;
const FADE = 0.03;

/** The sound itself, samples in [-1, 1] at `rate` Hz. Pure. */
export function samplesOf(earcon: Earcon, rate: number): Float32Array<ArrayBuffer> {
  const samples = new Float32Array(Math.ceil((secondsOf(earcon) + 0.01) * rate));
  for (const { at, seconds, from, to } of earcon.notes) {
    const begin = Math.round(at * rate);
    const length = Math.round(seconds * rate);
    const partials = PARTIALS.filter((p) => p * Math.max(from, to) <= HIGHEST);
    for (let i = 0; i < length; i += 1) {
      const t = i / rate;
      // Phase of a pitch that moves in a straight line from one to the other.
      const cycles = from * t + ((to - from) * t * t) / (2 * seconds);
      const swell = Math.min(1, t / SWELL, (seconds - t) / FADE);
      let sum = 0;
      partials.forEach((p, k) => {
        sum += Math.sin(2 * Math.PI * p * cycles) / (1 + 0.25 * k);
      });
      samples[begin + i] = (samples[begin + i] ?? 0) + swell * sum;
    }
  }
  const peak = samples.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
  return samples.map((x) => (x / peak) * 0.9);
}
