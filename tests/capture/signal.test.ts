import fc from 'fast-check';
import { expect, test } from 'vitest';
import { isSoundFile, soundFile } from '../../src/capture/sound-file.ts';
import { createResampler, resample } from '../../src/capture/signal/resample.ts';
import { createSegmenter, type Utterance } from '../../src/capture/signal/segment.ts';
import { suppress } from '../../src/capture/signal/suppress.ts';
import { readWav, writeWav } from '../../src/capture/signal/wav.ts';
import { noise, NOISES, over, power } from '../speech/noise.ts';
import { joined, RATE, say } from '../speech/voice.ts';

const nothing = () => Promise.reject(new Error('no decoder'));

function tone(hertz: number, rate: number, seconds: number): Float32Array {
  return Float32Array.from(
    { length: rate * seconds },
    (_, i) => 0.5 * Math.sin((2 * Math.PI * hertz * i) / rate),
  );
}

/** A WAV file with this header and body, for the forms that `writeWav` does not write. */
function wav(code: number, channels: number, bits: number, body: Uint8Array): Uint8Array {
  const bytes = new Uint8Array(44 + body.length);
  bytes.set(writeWav(new Float32Array(0), 16_000));
  const view = new DataView(bytes.buffer);
  view.setUint16(20, code, true);
  view.setUint16(22, channels, true);
  view.setUint16(34, bits, true);
  view.setUint32(40, body.length, true);
  bytes.set(body, 44);
  return bytes;
}

test.each([
  ['8 bits', 1, 8, new Uint8Array([255])],
  ['24 bits', 1, 24, new Uint8Array([0xff, 0xff, 0x7f])],
  ['32 bits', 1, 32, new Uint8Array(new Int32Array([2 ** 31 - 1]).buffer)],
  ['float', 3, 32, new Uint8Array(new Float32Array([1]).buffer)],
  ['double', 3, 64, new Uint8Array(new Float64Array([1]).buffer)],
])('WAV with %s: full scale is 1', (_, code, bits, body) => {
  const read = readWav(wav(code, 1, bits, body));
  expect(read.ok && read.samples[0]).toBeCloseTo(1, 1);
});

test('WAV in stereo is mixed to one', () => {
  const read = readWav(wav(1, 2, 16, new Uint8Array(new Int16Array([16384, 0]).buffer)));
  expect(read.ok && read.samples[0]).toBeCloseTo(0.25);
});

test('WAV: what is written is read again (seed 11)', () => {
  fc.assert(
    fc.property(
      fc.array(fc.float({ min: -1, max: 1, noNaN: true }), { minLength: 1 }),
      (values) => {
        const read = readWav(writeWav(Float32Array.from(values), 16_000));
        expect(read.ok).toBe(true);
        if (read.ok)
          for (const [i, v] of values.entries()) expect(read.samples[i]).toBeCloseTo(v, 3);
      },
    ),
    { seed: 11, numRuns: 50 },
  );
});

test('WAV: any damage gives samples or one sentence, never an error thrown (seed 12)', () => {
  const good = writeWav(tone(440, 8000, 0.05), 8000);
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: good.length }),
      fc.array(fc.tuple(fc.integer({ min: 0, max: 60 }), fc.integer({ min: 0, max: 255 }))),
      (length, changes) => {
        const bytes = good.slice(0, length);
        for (const [at, value] of changes) if (at < bytes.length) bytes[at] = value;
        const read = readWav(bytes);
        if (!read.ok) expect(read.error).toMatch(/\.$/);
      },
    ),
    { seed: 12, numRuns: 300 },
  );
});

test('bad sound files: one sentence each', async () => {
  const silent = await soundFile(writeWav(new Float32Array(RATE), RATE), 'walk.wav', nothing);
  expect(silent.ok ? '' : silent.error).toBe(
    'This file is silent: the loudest sample of "walk.wav" is 0 % of full scale. Check the microphone and record again.',
  );
  const text = await soundFile(new TextEncoder().encode('left belt good'), 'walk.mp3', nothing);
  expect(text.ok ? '' : text.error).toContain('is not a sound file that can be read here');
  const empty = await soundFile(new Uint8Array(0), 'walk.wav', nothing);
  expect(empty.ok ? '' : empty.error).toBe('"walk.wav" is empty: record or copy it again.');
  const cut = await soundFile(
    writeWav(tone(440, RATE, 2), RATE).slice(0, RATE),
    'walk.wav',
    nothing,
  );
  expect(cut.ok && cut.warning).toContain('This WAV file is cut off: 0.5 s of 2.0 s are there.');
  const header = await soundFile(writeWav(tone(440, RATE, 1), RATE).slice(0, 30), 'a.wav', nothing);
  expect(header.ok ? '' : header.error).toContain('cut off in its header');
});

test('sound is told from text by its first bytes or its name', () => {
  expect(isSoundFile(writeWav(tone(440, RATE, 1), RATE), 'x')).toBe(true);
  expect(isSoundFile(new Uint8Array(10), 'walk.MP3')).toBe(true);
  expect(isSoundFile(new TextEncoder().encode('WEBVTT'), 'walk.vtt')).toBe(false);
});

test('resampling keeps a tone that fits and drops one that does not', () => {
  const kept = resample(tone(1000, 48_000, 0.5), 48_000, 8000);
  const dropped = resample(tone(6000, 48_000, 0.5), 48_000, 8000);
  expect(kept.length).toBe(4000);
  expect(power(kept.subarray(500, 3500))).toBeCloseTo(0.125, 2);
  expect(power(dropped.subarray(500, 3500))).toBeLessThan(1e-4);
});

test('resampling in pieces is resampling at once (seed 13)', () => {
  const sound = noise('pink', 4410, 44_100, 3);
  const once = resample(sound, 44_100, 8000);
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 1, max: 900 }), { minLength: 1 }), (lengths) => {
      const resampler = createResampler(44_100, 8000);
      const out: number[] = [];
      let at = 0;
      for (let i = 0; at < sound.length; i++) {
        const length = lengths[i % lengths.length] ?? 1;
        out.push(...resampler.push(sound.subarray(at, at + length)));
        at += length;
      }
      out.push(...resampler.flush());
      expect(out.length).toBe(once.length);
      for (const [i, v] of out.entries()) expect(v).toBeCloseTo(once[i] ?? NaN, 5);
    }),
    { seed: 13, numRuns: 20 },
  );
}, 60_000);

async function segments(samples: Float32Array): Promise<Utterance[]> {
  const sound = resample(samples, RATE, 8000);
  const out: Utterance[] = [];
  const segmenter = createSegmenter(8000, { ended: (u) => out.push(u) });
  for (let at = 0; at < sound.length; at += 700) segmenter.push(sound.subarray(at, at + 700));
  segmenter.flush();
  return Promise.resolve(out);
}

test('three sentences are three utterances, clean and over each noise at 10 dB', async () => {
  const pieces: Float32Array[] = [];
  for (const text of ['left brake line good', 'oil six quarts', 'tail skid cracked'])
    pieces.push(await say(text, 'kal'));
  const { samples, places } = joined(pieces, 1.2);
  for (const kind of ['clean', 'pink', 'engine'] as const) {
    const found = await segments(kind === 'clean' ? samples : over(samples, kind, 10, RATE, 4));
    expect(found.length, kind).toBe(3);
    for (const [i, place] of places.entries()) {
      expect(found[i]?.from, kind).toBeLessThan(place.from + 0.1);
      expect(found[i]?.to, kind).toBeGreaterThan(place.to - 0.35);
    }
  }
}, 60_000);

test('noise that begins at once does not make one piece of what is said over it', async () => {
  const pieces: Float32Array[] = [];
  for (const text of ['left brake line good', 'oil six quarts', 'tail skid cracked'])
    pieces.push(await say(text, 'kal'));
  const { samples, places } = joined(pieces, 3);
  const quiet = 5;
  for (const kind of NOISES) {
    const sound = new Float32Array(quiet * RATE + samples.length);
    sound.set(over(samples, kind, 15, RATE, 4), quiet * RATE);
    const found = await segments(sound);
    const its = places.map(({ from, to }) =>
      found.filter((u) => u.from < quiet + to && u.voiceEnd > quiet + from),
    );
    // The first may have the begin of the noise before it: that has to be learned.
    expect(new Set(its.flat()).size, kind).toBe(places.length);
    for (const [i, place] of places.entries()) {
      expect(its[i]?.length, kind).toBe(1);
      if (i > 0) expect(its[i]?.[0]?.from, kind).toBeGreaterThan(quiet + place.from - 1);
      expect(its[i]?.[0]?.from, kind).toBeLessThan(quiet + place.from + 0.1);
      expect(its[i]?.[0]?.to, kind).toBeGreaterThan(quiet + place.to - 0.35);
    }
  }
}, 60_000);

test('noise alone is hardly ever an utterance, silence never', async () => {
  expect(await segments(new Float32Array(RATE * 5))).toEqual([]);
  const steady = await segments(noise('pink', RATE * 20, RATE, 9).map((s) => s * 0.05));
  expect(steady.length).toBeLessThanOrEqual(1);
}, 60_000);

test('suppression raises the ratio of speech to steady noise', async () => {
  const clean = joined([await say('left brake line good', 'rms')], 0.6).samples;
  const noisy = resample(over(clean, 'pink', 10, RATE, 2), RATE, 8000);
  const quiet = suppress(noisy, 8000);
  expect(quiet.snr).toBeLessThan(25);
  const head = (samples: Float32Array) => power(samples.subarray(800, 3200));
  expect(head(quiet.samples)).toBeLessThan(head(noisy) / 3);
  expect(suppress(resample(clean, RATE, 8000), 8000).snr).toBeGreaterThan(25);
}, 60_000);
