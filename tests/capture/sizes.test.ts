import { expect, test } from 'vitest';
import { soundFile, type Decode } from '../../src/capture/sound-file.ts';
import { resample } from '../../src/capture/signal/resample.ts';
import { TooLong } from '../../src/capture/sound-limits.ts';
import { writeWav } from '../../src/capture/signal/wav.ts';

/** Issue 14.9: a large sound file is bounded in time and memory, and says in one sentence what is wrong. */
const MB = 1024 * 1024;
const nothing: Decode = () => Promise.reject(new Error('It was decoded.'));

/** A WAV file of zeros with this head; its samples take no time to make. */
function wavOf(bytes: number, rate: number): Uint8Array {
  const all = new Uint8Array(bytes);
  const head = writeWav(new Float32Array(1), rate).subarray(0, 44);
  all.set(head);
  new DataView(all.buffer).setUint32(40, bytes - 44, true);
  return all;
}

test('14.9: WAV of more than 128 MB is refused with what to do', async () => {
  const read = await soundFile(wavOf(129 * MB, 16_000), 'walk.wav', nothing);
  expect(read.ok ? '' : read.error).toBe(
    '"walk.wav" has 129 MB of sound; Talkround reads at most 128 MB of WAV. Save it as mono with 16,000 samples a second, or cut out the walk.',
  );
});

test('14.9: WAV that lasts longer than it may is refused by its head alone', async () => {
  const began = performance.now();
  const read = await soundFile(wavOf(100 * MB, 4000), 'walk.wav', nothing);
  expect(read.ok ? '' : read.error).toBe(
    '"walk.wav" is 3.6 h long; Talkround reads at most 2 h. Cut out the walk.',
  );
  expect(performance.now() - began).toBeLessThan(1000);
});

test('14.9: 100 MB of WAV are read with no more beside the file than what the recogniser takes', async () => {
  const bytes = wavOf(100 * MB, 48_000);
  const before = process.memoryUsage().arrayBuffers;
  let most = 0;
  const watch = setInterval(() => (most = Math.max(most, process.memoryUsage().arrayBuffers)), 5);
  const read = await soundFile(bytes, 'walk.wav', nothing);
  clearInterval(watch);
  expect(read.ok ? '' : read.error).toContain('This file is silent');
  // 52 million samples at 48,000 are 9 million at 8,000: 35 MB.
  expect(Math.max(most, process.memoryUsage().arrayBuffers) - before).toBeLessThan(120 * MB);
}, 60_000);

test('14.9: of a compressed file more than 64 MB are refused undecoded', async () => {
  const read = await soundFile(new Uint8Array(65 * MB), 'walk.m4a', nothing);
  expect(read.ok ? '' : read.error).toBe(
    '"walk.m4a" has 65 MB of sound; Talkround reads at most 64 MB of such a file. Cut out the walk.',
  );
});

test('14.9: a decoder that finds more than two hours stops, and the sentence says so', async () => {
  const read = await soundFile(new Uint8Array(10), 'walk.flac', (_, most) =>
    Promise.reject(new TooLong(most + 3600)),
  );
  expect(read.ok ? '' : read.error).toBe(
    '"walk.flac" is 3.0 h long; Talkround reads at most 2 h. Cut out the walk.',
  );
});

test('a file is kept at the rate of the recogniser, as if it had been read whole', async () => {
  const tone = Float32Array.from({ length: 100_000 }, (_, i) => Math.sin(i / 20) / 2);
  const read = await soundFile(writeWav(tone, 44_100), 'walk.wav', nothing);
  const whole = resample(tone, 44_100, 8000);
  expect(read.ok && read.rate).toBe(8000);
  const samples = read.ok ? read.samples : new Float32Array(0);
  expect(samples.length).toBe(whole.length);
  for (const [i, v] of samples.entries())
    expect(Math.abs(v - (whole[i] ?? NaN))).toBeLessThan(1e-3);
});
