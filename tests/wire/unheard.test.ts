import { describe, expect, test } from 'vitest';
import type { EarNotice } from '#capture';
import { LONGEST_PROMPT, secondsToSay } from '#shared/speech';
import { adviceOn, adviceWords, AND_AGAIN, MANY } from '../../src/wire/unheard.ts';
import { createSegmenter } from '../../src/capture/signal/segment.ts';
import { noise, NOISES } from '../speech/noise.ts';
import { walkingStage as stage } from './walking-stage.ts';

/* Issue 20: never deaf in silence. */

type Stage = Awaited<ReturnType<typeof stage>>;
type Sound = NonNullable<EarNotice['sound']>;
const PLAIN: Sound = { level: -20, snr: 30, begins: 0.5, ends: 1.5, voiced: 0.8 };

/** A piece of speech of so many seconds that ended now and gave no words. */
async function mumble(s: Stage, sound: Partial<Sound> = {}, seconds = 1): Promise<void> {
  const to = s.time.seconds();
  s.ears.at(-1)?.out.notice({
    kind: 'lost',
    sentence: 'Something was said, and no words were made of it.',
    from: to - seconds,
    to,
    sound: { ...PLAIN, ...sound },
  });
  await s.time.pass(0.6);
}
const tones = (s: Stage) => s.log.filter((l) => l === '< (not-understood)').length;
const words = (s: Stage) => s.log.filter((l) => /^< [^(]/.test(l));

test('issue 20: speech that gave no words has its tone each time, and takes the place of the last success', async () => {
  const s = await stage();
  await s.say('drive belts are in good condition');
  expect(s.view.get()?.unheard).toBeUndefined();
  await s.time.pass(5);
  await mumble(s);
  expect(tones(s)).toBe(1);
  expect(s.view.get()?.unheard).toEqual({ inARow: 1, advice: null });
  await s.time.pass(5);
  await mumble(s);
  expect(tones(s)).toBe(2);
  expect(words(s)).toEqual([]);
  // What gave words is shown again, and the count begins anew.
  await s.say('rivet line is good');
  expect(s.view.get()?.unheard).toBeUndefined();
  await s.time.pass(5);
  await mumble(s);
  expect(s.view.get()?.unheard?.inARow).toBe(1);
});

test('issue 20: what reached the ear of the pilot is on the record', async () => {
  const s = await stage();
  await mumble(s);
  const events = await s.store.walk(s.walking.session.walk);
  const replied = events.filter((e) => e.what.kind === 'replied').at(-1);
  expect(replied?.what).toMatchObject({ tone: 'not-understood', text: '' });
});

test.each([
  ['a faint voice', { level: -50, snr: 8 }, 'faint', 'closer'],
  ['noise', { level: -25, snr: 6 }, 'noise', 'noise is too loud'],
  ['a voice that is not known', {}, 'voice', 'ear check'],
] as const)(
  'issue 20: after three in a row it is said and shown what to do: %s',
  async (_, sound, advice, phrase) => {
    const s = await stage({ talk: 'tones' });
    for (let i = 0; i < MANY; i += 1) {
      await s.time.pass(3);
      await mumble(s, sound);
    }
    await s.time.pass(15);
    expect(s.view.get()?.unheard).toEqual({ inARow: MANY, advice });
    const said = words(s);
    expect(said).toHaveLength(1);
    expect(said[0]).toContain(phrase);
    // Every way out is named: another recogniser, and typing.
    expect(said[0]).toContain('browser’s recogniser');
    expect(said[0]).toContain('type');
    // Not again with each: that would nag. Tones go on.
    for (let i = 0; i < AND_AGAIN; i += 1) {
      await mumble(s, sound);
      await s.time.pass(15);
    }
    expect(words(s)).toHaveLength(2);
    expect(tones(s)).toBe(MANY + AND_AGAIN);
  },
);

test('R11: our own voice and our own tones coming back raise no tone', async () => {
  const s = await stage();
  await mumble(s);
  expect(tones(s)).toBe(1);
  // The tone of 0.42 s, heard by the microphone while it sounds and a little later.
  const to = s.time.seconds() + 0.1;
  s.ears
    .at(-1)
    ?.out.notice({ kind: 'lost', sentence: '', from: to - 0.7, to: to - 0.1, sound: PLAIN });
  await s.time.pass(1);
  expect(tones(s)).toBe(1);
  for (let i = 1; i < MANY; i += 1) {
    await s.time.pass(5);
    await mumble(s);
  }
  // The advice is being spoken now.
  expect(s.listening.get().state).toBe('speaking');
  await mumble(s, {}, 0.3);
  expect(s.view.get()?.unheard?.inARow).toBe(MANY);
});

test('in a hold a short piece may be "resume" and has its tone; long talk with others has none', async () => {
  const s = await stage();
  await s.say('hold');
  await s.time.pass(10);
  await mumble(s, {}, 5);
  expect(tones(s)).toBe(0);
  await mumble(s, {}, 0.8);
  expect(tones(s)).toBe(1);
});

test('a click is no speech', async () => {
  const s = await stage();
  await mumble(s, { voiced: 0.06 }, 0.1);
  expect(tones(s)).toBe(0);
  expect(s.view.get()?.unheard).toBeUndefined();
});

test('a recogniser that tells neither times nor sound is heard as well: the browser’s', async () => {
  const s = await stage();
  await s.walking.listenWith('browser');
  await s.time.pass(10);
  s.log.length = 0;
  for (let i = 0; i < MANY; i += 1) {
    s.ears.at(-1)?.out.notice({ kind: 'lost', sentence: 'No words.' });
    await s.time.pass(15);
  }
  expect(tones(s)).toBe(MANY);
  expect(words(s)[0]).toContain('this device’s recogniser');
});

test('steady noise alone is no speech: it raises no tone', () => {
  for (const kind of NOISES) {
    const rate = 8000;
    const sound = noise(kind, rate * 20, rate, 5).map((s) => s * 0.05);
    const pieces: number[] = [];
    const segmenter = createSegmenter(rate, { ended: (u) => pieces.push(u.from) });
    for (let at = 0; at < sound.length; at += 320) segmenter.push(sound.subarray(at, at + 320));
    segmenter.flush();
    expect(pieces, kind).toEqual([]);
  }
});

describe('what is said of it', () => {
  test('fits into one go', () => {
    for (const advice of ['faint', 'noise', 'voice'] as const)
      expect(secondsToSay(adviceWords(advice, false))).toBeLessThanOrEqual(LONGEST_PROMPT);
  });
  test('one odd piece does not turn it', () => {
    const odd = { ...PLAIN, level: -60, snr: 2 };
    expect(adviceOn([PLAIN, odd, PLAIN])).toBe('voice');
    expect(adviceOn([null, null, null])).toBe('voice');
  });
});
