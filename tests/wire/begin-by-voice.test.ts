import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { heardOf, listeners, type HeadsetActions } from '#capture';
import { createGrammar, parseDictionary } from '#grammar';
import { beginByVoice } from '../../src/wire/begin-by-voice.ts';
import { CATALOGUE } from '../speak/fixture.ts';
import { testWeights } from '../weights.ts';

const GRAMMAR = createGrammar(CATALOGUE, {
  weights: testWeights(),
  pronunciations: parseDictionary(
    readFileSync('node_modules/soundswallower/model/en-us/dict.txt', 'utf8'),
  ),
});

function stage(allowed = true) {
  const log: string[] = [];
  const ears: ReturnType<typeof listeners>[] = [];
  let button: HeadsetActions | null = null;
  let visible = true;
  const voice = beginByVoice({
    allowed: () => Promise.resolve(allowed),
    visible: () => visible,
    readerFor: () => Promise.resolve(GRAMMAR),
    openEar(catalogue) {
      const out = listeners();
      ears.push(out);
      return Promise.resolve({
        kind: 'embedded' as const,
        name: 'own',
        sendsAway: false,
        start() {
          log.push(`open ${catalogue}`);
          out.state('listening', 'Listening.');
          return Promise.resolve();
        },
        stop() {
          log.push('closed');
          return Promise.resolve();
        },
        pause: () => undefined,
        resume: () => undefined,
        expect: () => undefined,
        ...out.on,
      });
    },
    headset: {
      on(actions) {
        button = actions;
        return Promise.resolve(true);
      },
      state: () => undefined,
      off: () => (button = null),
    },
  });
  return {
    log,
    voice,
    hide: () => (visible = false),
    press: () => button?.toggle(),
    say: (text: string) => ears.at(-1)?.heard(heardOf({ id: text, by: 'embedded', text })),
    begin: () => log.push('begin'),
  };
}

test('"begin" begins, once, after the microphone was given back', async () => {
  const s = stage();
  s.voice.listen('trial', s.begin);
  await s.voice.closed();
  expect(s.voice.on.get()).toBe(true);
  s.say('begin');
  s.say('begin');
  await s.voice.closed();
  await Promise.resolve();
  expect(s.log).toEqual(['open trial', 'closed', 'begin']);
  expect(s.voice.on.get()).toBe(false);
});

test.each(['drive belts good', 'I will begin in a minute', 'hold', 'the beginning'])(
  'misses: "%s" begins nothing',
  async (text) => {
    const s = stage();
    s.voice.listen('trial', s.begin);
    await s.voice.closed();
    s.say(text);
    await s.voice.closed();
    expect(s.log).toEqual(['open trial']);
  },
);

test('the headset button begins', async () => {
  const s = stage();
  s.voice.listen('trial', s.begin);
  await s.voice.closed();
  s.press();
  await s.voice.closed();
  await Promise.resolve();
  expect(s.log.at(-1)).toBe('begin');
});

test('not allowed: no microphone is opened, nothing is asked', async () => {
  const s = stage(false);
  s.voice.listen('trial', s.begin);
  await s.voice.closed();
  expect(s.log).toEqual([]);
});

test('in a page that is not in front "begin" begins nothing: two tabs would both', async () => {
  const s = stage();
  s.voice.listen('trial', s.begin);
  await s.voice.closed();
  s.hide();
  s.say('begin');
  await s.voice.closed();
  expect(s.log).toEqual(['open trial']);
});

test('begun by touch: the microphone is given back first, and leaving the screen afterwards takes nothing from the walk', async () => {
  const s = stage();
  const leave = s.voice.listen('trial', s.begin);
  await s.voice.closed();
  await s.voice.stop();
  expect(s.log).toEqual(['open trial', 'closed']);
  leave();
  await s.voice.closed();
  s.say('begin');
  await s.voice.closed();
  expect(s.log).toEqual(['open trial', 'closed']);
});

test('another aircraft is chosen: the first ear is closed before the next opens', async () => {
  const s = stage();
  s.voice.listen('one', s.begin)();
  s.voice.listen('two', s.begin);
  await s.voice.closed();
  const off = s.voice.listen('three', s.begin);
  await s.voice.closed();
  off();
  await s.voice.closed();
  expect(s.log.at(-1)).toBe('closed');
});
