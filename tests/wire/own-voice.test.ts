import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Checked, EarCheck, EarCheckParts, Tried, VoiceSettings } from '#capture';
import type { Catalogue } from '#shared/catalogue';
import type { WordSound } from '#screens';
import { ownVoice } from '../../src/wire/workshop/own-voice.ts';
import { spread } from '../../src/wire/workshop/spread.ts';
import { bent, SMALL } from '../catalogue/small.ts';

/* Issue 18: a name is said by its author, and its pronunciation mended from what was heard. */

type Told = Pick<EarCheckParts<MediaStream>, 'onLevel' | 'onState' | 'onChecked'>;
const SOUND: Checked['sound'] = { level: -20, snr: 30, begins: 0.2, ends: 1, voiced: 0.8 };
const VOICE: VoiceSettings = { v: 1, warp: 1.12, tract: 1.12, strict: 0.5, gain: 0, phrases: 3 };
const PHONES: Readonly<Record<string, string>> = { tail: 'T EY L', rotor: 'R OW T ER' };
const settle = () => new Promise((resolve) => setTimeout(resolve, 0));

function stage() {
  const log: string[] = [];
  let told: Told | null = null;
  let catalogue: Catalogue | null = null;
  const voice = ownVoice({
    quiet: async () => void log.push('quiet'),
    again: async () => void log.push('again'),
    voice: () => VOICE,
    sounds: (_, names) =>
      Promise.resolve(
        names.flatMap((n) =>
          n
            .split(' ')
            .map((word): WordSound => ({ word, phones: PHONES[word] ?? '', by: 'author' })),
        ),
      ),
    open(of, hooks) {
      told = hooks;
      catalogue = of;
      log.push(`fitted ${hooks.voice?.warp ?? 1}`);
      const check: EarCheck = {
        phrases: [],
        start: async () => hooks.onState('listening', 'Listening.'),
        read: (text, near) => log.push(`read ${text} among ${(near ?? []).join(', ')}`),
        adapt: () => undefined,
        stop: () => log.push('closed'),
      };
      return Promise.resolve(check);
    },
  });
  return {
    voice,
    log,
    now: () => voice.now.get(),
    of: () => catalogue,
    async try(text = SMALL, name = 'Tail rotor') {
      voice.start(text, 'tail', name);
      await settle();
    },
    said(tried: Tried, understood = false, sound: Partial<Checked['sound']> = {}) {
      told?.onChecked('tail rotor', { sound: { ...SOUND, ...sound }, understood, tried });
    },
    trouble: (words: string) => told?.onState('trouble', words),
  };
}

test('R1: nothing else listens while a name is tried; then what listened before listens again', async () => {
  const s = stage();
  await s.try();
  expect(s.now()).toMatchObject({ state: 'listening', name: 'Tail rotor' });
  expect(s.log).toEqual(['quiet', 'fitted 1.12', 'read tail rotor among tail rotor']);
  s.said({ heard: 'tail rotor', sounds: ['T', 'EY', 'L', 'R', 'OW', 'T', 'ER'] });
  expect(s.now()).toMatchObject({ state: 'done', made: { as: 'heard', words: [] } });
  expect(s.log.slice(-2)).toEqual(['closed', 'again']);
});

describe('what was made of a name', () => {
  const SOUNDS = ['T', 'EY', 'L', 'W', 'OW', 'D', 'AH'];
  test.each<[string, Tried, boolean, object]>([
    [
      'with an article it is the name',
      { heard: 'the tail rotor', sounds: SOUNDS },
      false,
      { as: 'heard' },
    ],
    [
      'its sounds fit, and it is no words of a walk by itself',
      { heard: null, sounds: SOUNDS },
      true,
      { as: 'heard' },
    ],
    [
      'another thing',
      { heard: 'negative', sounds: SOUNDS },
      true,
      { as: 'other', other: 'negative' },
    ],
    ['nothing', { heard: null, sounds: SOUNDS }, false, { as: 'not', other: null }],
    ['no sound at all', { heard: null, sounds: [] }, false, { as: 'not', words: [] }],
  ])('%s', async (_what, tried, understood, made) => {
    const s = stage();
    await s.try();
    s.said(tried, understood);
    expect(s.now().made).toMatchObject(made);
  });

  test('each word that sounded otherwise is offered as it was heard, and no other', async () => {
    const s = stage();
    await s.try();
    s.said({ heard: null, sounds: SOUNDS });
    expect(s.now().made?.words).toEqual([{ word: 'rotor', heard: 'W OW D AH' }]);
  });

  test('a faint voice and a noisy place are told', async () => {
    const s = stage();
    await s.try();
    s.said({ heard: null, sounds: SOUNDS }, false, { level: -70, snr: 1 });
    expect(s.now().made).toMatchObject({ faint: true, noisy: true });
  });
});

test('it is heard again with the file as it stands then: what was mended is in it', async () => {
  const s = stage();
  await s.try();
  s.said({ heard: null, sounds: ['T', 'EY', 'L', 'W', 'OW', 'D', 'AH'] });
  await s.try(bent('R OW T ER', 'W OW D AH'));
  const check = s.of()?.stations[1]?.checks[0];
  expect(check?.pronounce).toEqual({ rotor: 'W OW D AH' });
  expect(s.now().state).toBe('listening');
});

test.each([
  ['a file with a mistake', bent('kind: other', 'kind: airship'), 'Tail rotor', /^Line 4: /],
  ['a name of figures', SMALL, '12-34', /no word in it that can be said/],
])('%s is one sentence, and nothing listens', async (_what, text, name, sentence) => {
  const s = stage();
  await s.try(text, name);
  expect(s.now()).toMatchObject({ state: 'trouble', trouble: expect.stringMatching(sentence) });
  expect(s.log).not.toContain('quiet');
});

test('what comes of a try that was left is nobody’s business', async () => {
  const s = stage();
  await s.try();
  await s.voice.stop();
  s.said({ heard: 'negative', sounds: [] });
  s.trouble('The microphone is gone.');
  expect(s.now().state).toBe('off');
  expect(s.log.filter((l) => l === 'again')).toHaveLength(1);
});

test('the microphone goes: one sentence, and what listened before listens again', async () => {
  const s = stage();
  await s.try();
  s.trouble('The microphone is gone.');
  await s.voice.stop();
  expect(s.log.filter((l) => l === 'again')).toHaveLength(1);
});

describe('sounds shared out among words', () => {
  const of = (row: string) => row.split(' | ').map((w) => w.split(' ').filter((p) => p !== ''));
  test.each([
    ['T OW | HH UH K', 'T OW HH UH K', 'T OW | HH UH K'],
    ['T OW | HH UH K', 'T OW AH K P', 'T OW | AH K P'],
    ['P IY T OW | T UW B', 'P IH T AH T UW P', 'P IH T AH | T UW P'],
    ['OY L', 'OY L D', 'OY L D'],
    ['D R AY V | B EH L T S', 'D R AY V', 'D R AY V | '],
  ])('%s heard as %s', (expected, heard, shared) => {
    expect(spread(of(expected), of(heard)[0] ?? [])).toEqual(of(shared));
  });

  const phones = fc.array(fc.constantFrom('T', 'OW', 'K', 'AH', 'S'), { maxLength: 6 });
  test('property, seed 18: every sound goes to one word, in order', () => {
    fc.assert(
      fc.property(fc.array(phones, { minLength: 1, maxLength: 3 }), phones, (expected, heard) => {
        expect(spread(expected, heard).flat()).toEqual(heard);
      }),
      { seed: 18, numRuns: 500 },
    );
  });
});
