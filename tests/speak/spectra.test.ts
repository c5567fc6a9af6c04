import { expect, test } from 'vitest';
import { EARCONS, samplesOf } from '#speak';

/*
 * Whether the tones can be told apart is measured on the sound itself: how its
 * energy lies over bands and over time. Noise of the hangar covers bands, and
 * people who hear no high notes lose all above about 1.5 kHz (age-related loss
 * begins above 2 kHz: common practice, no source), so that the same has to hold
 * for what is left below.
 */

const RATE = 16_000;
/** Seconds of a frame: shorter than the shortest note. */
const FRAME = 0.05;
/** Seconds of the longest tone. */
const LONGEST = 1.2;
/** Band edges, Hz, about a third of an octave each. */
const EDGES = [450, 570, 710, 900, 1130, 1420, 1790, 2250, 2830, 3100];

/** Low-pass at `hz`: a windowed sinc, 255 taps, down 60 dB within 200 Hz (Blackman window). */
function lowPass(samples: Float32Array, hz: number): Float32Array {
  const half = 127;
  const taps = Array.from({ length: 2 * half + 1 }, (_, i) => {
    const n = i - half;
    const window =
      0.42 - 0.5 * Math.cos((Math.PI * i) / half) + 0.08 * Math.cos((2 * Math.PI * i) / half);
    const x = (2 * hz) / RATE;
    return window * (n === 0 ? x : Math.sin(Math.PI * x * n) / (Math.PI * n));
  });
  return samples.map((_, at) =>
    taps.reduce((sum, tap, i) => sum + tap * (samples[at + i - half] ?? 0), 0),
  );
}

/** Share of the energy of one frame at a frequency (DFT of one bin, Hann window). */
function power(frame: Float32Array, hz: number): number {
  let re = 0;
  let im = 0;
  frame.forEach((x, i) => {
    const w = 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / frame.length);
    re += w * x * Math.cos((2 * Math.PI * hz * i) / RATE);
    im += w * x * Math.sin((2 * Math.PI * hz * i) / RATE);
  });
  return re * re + im * im;
}

/** Energy by frame and band, square root, as one vector of length 1. */
function shape(samples: Float32Array): number[] {
  const length = Math.round(FRAME * RATE);
  const values: number[] = [];
  for (let frame = 0; frame < LONGEST / FRAME; frame += 1) {
    const part = new Float32Array(length);
    part.set(samples.subarray(frame * length, (frame + 1) * length));
    for (let band = 0; band + 1 < EDGES.length; band += 1) {
      let sum = 0;
      for (let hz = EDGES[band] ?? 0; hz < (EDGES[band + 1] ?? 0); hz += 1 / FRAME) {
        sum += power(part, hz);
      }
      values.push(Math.sqrt(sum));
    }
  }
  const norm = Math.hypot(...values);
  return values.map((v) => v / norm);
}

/** 0: the same sound. 1: no band of any frame in common. */
function difference(a: readonly number[], b: readonly number[]): number {
  return 1 - a.reduce((sum, x, i) => sum + x * (b[i] ?? 0), 0);
}

const all = Object.values(EARCONS);
const pairs = all.flatMap((a, i) => all.slice(i + 1).map((b) => [a, b] as const));
/** Least difference that is asked for: nearly a third of the shape is another one. */
const APART = 0.3;
const whole = new Map(all.map((e) => [e.name, shape(samplesOf(e, RATE))]));
const low = new Map(all.map((e) => [e.name, shape(lowPass(samplesOf(e, RATE), 1500))]));

test.each(pairs.map(([a, b]) => [a.name, b.name] as const))(
  '%s and %s: their spectra over time differ, also below 1.5 kHz alone',
  (a, b) => {
    expect(difference(whole.get(a) ?? [], whole.get(b) ?? [])).toBeGreaterThan(APART);
    expect(difference(low.get(a) ?? [], low.get(b) ?? [])).toBeGreaterThan(APART);
  },
);

test.each(all)('$name: two components or more are left below 1.5 kHz, loud enough', (earcon) => {
  const sound = samplesOf(earcon, RATE);
  const left = lowPass(sound, 1500);
  const energy = (s: Float32Array) => s.reduce((sum, x) => sum + x * x, 0);
  // A quarter of the power is 6 dB down.
  expect(energy(left) / energy(sound)).toBeGreaterThan(0.25);
  const length = Math.round(FRAME * RATE);
  const middle = left.subarray(length / 4, length / 4 + length);
  const levels = Array.from({ length: 60 }, (_, i) => power(middle, 450 + i * 20));
  const most = Math.max(...levels);
  const peaks = levels.filter(
    (v, i) => v > most * 0.05 && v >= (levels[i - 1] ?? 0) && v > (levels[i + 1] ?? 0),
  );
  expect(peaks.length).toBeGreaterThanOrEqual(2);
});

test('the measure itself: the same tone softer is the same, filtered it is not', () => {
  const tone = samplesOf(EARCONS.question, RATE);
  expect(difference(shape(tone), shape(tone.map((x) => x * 0.3)))).toBeLessThan(0.001);
  expect(difference(shape(tone), shape(lowPass(tone, 1500)))).toBeGreaterThan(0.02);
});
