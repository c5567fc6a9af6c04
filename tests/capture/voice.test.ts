import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import {
  adaptTo,
  phrasesToRead,
  tryReadings,
  type Reading,
} from '../../src/capture/embedded/adapt.ts';
import { loadDecoder } from '../../src/capture/embedded/decoder.ts';
import { leastMargin } from '../../src/capture/embedded/gates.ts';
import {
  adaptedTo,
  bestOf,
  candidates,
  leastThatHelps,
  LEAST_PHRASES,
  ORDINARY,
  strictFor,
  voiceFrom,
  WARPS,
  type ReadPhrase,
  type VoiceSettings,
} from '../../src/capture/embedded/voice.ts';
import { resample } from '../../src/capture/signal/resample.ts';
import { soundedOf } from '../../src/capture/signal/sounded.ts';
import { noise } from '../speech/noise.ts';
import { joined, RATE, say } from '../speech/voice.ts';

/* Issue 20: what the ear check makes of a voice, and what it must not be taken in by. */

/** A phrase whose score is best at this stretch, by so much. */
function phrase(best: number, gain = 4, more: Partial<ReadPhrase> = {}): ReadPhrase {
  return {
    tried: WARPS.map((warp) => ({ warp, score: -50 - (Math.abs(warp - best) / 0.06) * gain })),
    margin: 30,
    level: -24,
    snr: 30,
    ...more,
  };
}
const read = (n: number, of: (i: number) => ReadPhrase) =>
  Array.from({ length: n }, (_, i) => of(i));

describe('adaptation by likelihood', () => {
  test('the stretch at which the phrases are likeliest, all together', () => {
    const found = adaptedTo(
      read(4, (i) => phrase([1.12, 1.18, 1.12, 1.06][i] ?? 1)),
      null,
    );
    expect(found).toMatchObject({
      ok: true,
      voice: { warp: 1.12, strict: 1, gain: 0, phrases: 4 },
    });
  });
  test('a voice that fits as it is stays as the model was made', () => {
    const flat = read(4, () => phrase(1.12, 0.2));
    expect(bestOf(flat).warp).toBe(1.12);
    expect(adaptedTo(flat, null)).toMatchObject({ ok: true, voice: { warp: 1 } });
  });
  test('margins are eased for a voice whose own phrases fit worse, and never under what unrelated talk needs', () => {
    expect(strictFor([30, 35, 41])).toBe(1);
    expect(strictFor([20, 21, 22])).toBeCloseTo(0.5, 1);
    expect(strictFor([5, 6, 7])).toBe(0);
    const near = new Set(['oil level']);
    const way = {
      logp: 0,
      segments: [
        { hub: 'name', words: ['oil', 'level'] },
        { hub: 'general', words: ['good'] },
      ],
    };
    expect(leastMargin(way, near, true)).toBe(9);
    // R1: unrelated talk with a good result had up to 6.5.
    expect(leastMargin(way, near, true, 0)).toBeGreaterThan(6.5);
    expect(leastMargin(way, new Set(), true, 0)).toBeGreaterThan(13.8);
    // Words that do not hang together are as suspect in any voice.
    expect(leastMargin(null, near, true, 0)).toBe(leastMargin(null, near, true, 1));
  });
  test('a faint voice is raised, a plain one is left', () => {
    const faint = adaptedTo(
      read(3, () => phrase(1, 4, { level: -44 })),
      null,
    );
    expect(faint).toMatchObject({ ok: true, voice: { gain: 15 } });
  });
});

/** A recogniser that hears a phrase at these settings only, and what it was fitted to. */
function hearing(hears: (voice: VoiceSettings, text: string) => boolean) {
  const fitted: VoiceSettings[] = [];
  const names: string[][] = [];
  const sounds: Reading[] = [];
  return {
    fitted,
    names,
    sounds,
    fit: (voice: VoiceSettings) => Promise.resolve(void fitted.push(voice)),
    near: (all: readonly string[]) => void names.push([...all]),
    hear(samples: Float32Array) {
      const text = sounds.find((s) => s.samples === samples)?.text ?? '';
      const now = fitted.at(-1) ?? ORDINARY;
      return hears(now, text) ? { text, words: [], confidence: 1, alternatives: [] } : null;
    },
  };
}

describe('never worse than none', () => {
  const found: VoiceSettings = { ...ORDINARY, warp: 1.18, tract: 1.18, strict: 0.4, phrases: 3 };
  test('from the least change to all of it, each once', () => {
    const told = candidates(found).map(({ warp, strict }) => [warp, strict]);
    expect(told).toEqual([
      [1, 1],
      [1, 0.4],
      [1.18, 1],
      [1.18, 0.4],
    ]);
    expect(candidates(ORDINARY)).toEqual([ORDINARY]);
    // A faint voice is raised whatever else helps.
    expect(candidates({ ...found, gain: 9 }).every((c) => c.gain === 9)).toBe(true);
  });
  test('what brings no more of the phrases is not kept, and who read stays known', () => {
    const tried = candidates(found);
    expect(leastThatHelps(tried, [3, 3, 3, 3])).toMatchObject({ warp: 1, strict: 1, tract: 1.18 });
    expect(leastThatHelps(tried, [2, 3, 3, 3])).toMatchObject({ warp: 1, strict: 0.4 });
    expect(leastThatHelps(tried, [2, 1, 3, 3])).toMatchObject({ warp: 1.18, strict: 1 });
    expect(leastThatHelps(tried, [0, 1, 1, 2])).toMatchObject({ warp: 1.18, strict: 0.4 });
  });
  test('kept unused, the stretch still tells somebody else', () => {
    const kept = { ...ORDINARY, tract: 1.18 };
    const again = adaptedTo(
      read(3, () => phrase(1.18)),
      kept,
    );
    expect(again).toMatchObject({ ok: true, other: false });
    const other = adaptedTo(
      read(3, () => phrase(0.94)),
      kept,
    );
    expect(other).toMatchObject({ ok: true, other: true });
    // Kept before the two were told apart.
    expect(voiceFrom({ v: 1, warp: 1.12, strict: 1, gain: 0, phrases: 3 })?.tract).toBe(1.12);
  });
});

describe('what it is not taken in by', () => {
  test('broken off in the middle: nothing is kept of too few phrases', () => {
    expect(
      adaptedTo(
        read(LEAST_PHRASES - 1, () => phrase(1.18)),
        null,
      ),
    ).toEqual({ ok: false, why: 'few' });
  });
  test('in noise: said so, and nothing is fitted to the noise', () => {
    const noisy = { snr: 5 };
    expect(
      adaptedTo(
        read(4, () => phrase(1.18, 4, noisy)),
        null,
      ),
    ).toEqual({ ok: false, why: 'noise' });
    expect(
      adaptedTo(
        read(4, () => phrase(1, 4, { ...noisy, margin: 1 })),
        null,
      ),
    ).toEqual({ ok: false, why: 'noise' });
  });
  test('other words than were shown, or a voice that is not understood at all', () => {
    expect(
      adaptedTo(
        read(5, (i) => phrase(1, 4, { margin: i < 3 ? -20 : 30 })),
        null,
      ),
    ).toEqual({ ok: false, why: 'unlike' });
  });
  test('two people who read in turn', () => {
    expect(
      adaptedTo(
        read(6, (i) => phrase(i < 3 ? 0.94 : 1.18)),
        null,
      ),
    ).toEqual({ ok: false, why: 'two' });
    expect(
      adaptedTo(
        read(4, (i) => phrase(1, 4, { level: i === 1 ? -50 : -20 })),
        null,
      ),
    ).toEqual({ ok: false, why: 'two' });
  });
  test('somebody else than the settings were kept for: told, for the pilot to decide', () => {
    const kept = { ...ORDINARY, warp: 0.94 };
    expect(
      adaptedTo(
        read(3, () => phrase(1.18)),
        kept,
      ),
    ).toMatchObject({ ok: true, other: true });
    expect(
      adaptedTo(
        read(3, () => phrase(1)),
        kept,
      ),
    ).toMatchObject({ ok: true, other: false });
  });
});

test('kept settings of another kind are none', () => {
  expect(voiceFrom(JSON.parse(JSON.stringify(ORDINARY)))).toEqual(ORDINARY);
  for (const bad of [null, 3, {}, { ...ORDINARY, v: 2 }, { ...ORDINARY, warp: 9 }, { warp: 'x' }])
    expect(voiceFrom(bad)).toBeNull();
});

test('how it sounded: level, noise and where the speech lies', () => {
  const rate = 8000;
  const samples = noise('pink', rate * 2, rate, 3).map((s) => s * 0.003);
  for (let i = rate * 0.6; i < rate * 1.4; i++)
    samples[i] = (samples[i] ?? 0) + 0.2 * Math.sin((2 * Math.PI * 300 * i) / rate);
  const sound = soundedOf(samples, rate);
  expect(sound.level).toBeCloseTo(-17, 0);
  expect(sound.snr).toBeGreaterThan(25);
  expect(sound.begins).toBeCloseTo(0.6, 1);
  expect(sound.ends).toBeCloseTo(1.4, 1);
  expect(soundedOf(new Float32Array(0), rate).voiced).toBe(0);
});

test('phrases to read are of this aircraft, whole, and the same each time', () => {
  const say = ['rotor', 'main rotor blades', "belt's end", 'oil level', 'drive belts'];
  const plan = {
    rules: '',
    start: 'start',
    groups: {},
    hubs: { name: say.map((s) => ({ say: s, then: 'x' })) },
  };
  expect(phrasesToRead(plan, 3)).toEqual([
    'main rotor blades in good order',
    'oil level secure',
    'drive belts no cracks',
  ]);
  expect(phrasesToRead(plan, 10)).toHaveLength(3);
});

test('with the real recogniser: a high voice is likelier stretched, other words are none of it', async () => {
  const folder = join(dirname(createRequire(import.meta.url).resolve('soundswallower')), 'model/');
  const decoder = await loadDecoder(folder);
  const texts = ['oil level is good', 'drive belts in good order', 'tail boom no cracks'];
  const readings = await Promise.all(
    texts.map(async (text) => ({
      text,
      samples: resample(joined([await say(text, 'slt')], 0.5).samples, RATE, 8000),
    })),
  );
  const found = adaptedTo(await tryReadings(decoder, readings), null);
  expect(found.ok && found.voice.warp).toBeGreaterThan(1);
  // All of them come out as the model was made: nothing is changed for this voice.
  const plain = hearing(() => true);
  plain.sounds.push(...readings);
  expect(await adaptTo(decoder, plain, readings, null)).toMatchObject({
    ok: true,
    voice: { warp: 1, strict: 1, tract: found.ok ? found.voice.warp : 0 },
  });
  expect(plain.names).toEqual([['oil level is good', 'drive belts', 'tail boom']]);
  // Nothing more is tried once all came out: three phrases, and what is kept.
  expect(plain.fitted.map(({ warp, strict }) => [warp, strict])).toEqual(Array(4).fill([1, 1]));
  // They come out stretched only, each at what the other two found.
  const high = hearing(({ warp }) => warp > 1);
  high.sounds.push(...readings);
  const stretched = await adaptTo(decoder, high, readings, null);
  expect(stretched.ok && stretched.voice.warp).toBeGreaterThan(1);
  const [first] = readings;
  const wrong = ['seven white horses', 'left nav light cracked', 'fuel cap missing'].map(
    (text) => ({
      text,
      samples: first?.samples ?? new Float32Array(0),
    }),
  );
  expect(adaptedTo(await tryReadings(decoder, wrong), null)).toMatchObject({ ok: false });
  decoder.close();
}, 240_000);
