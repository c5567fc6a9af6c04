import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { expect, test } from 'vitest';
import type { Adapted } from '#capture';
import { loadDecoder } from '../../src/capture/embedded/decoder.ts';
import { earCheck } from '../../src/capture/own/check.ts';
import type { WorkerLike } from '../../src/capture/own/ear.ts';
import { createEngine } from '../../src/capture/own/engine.ts';
import type { FromWorker, ToWorker } from '../../src/capture/own/protocol.ts';
import type { MicrophoneState } from '../../src/capture/sound/microphone.ts';
import { joined, RATE, say } from '../speech/voice.ts';
import { fakeTime } from './time.ts';

/* Issue 20: the ear check, from the microphone to the settings of a voice. */

const NAMES = ['oil level', 'drive belts', 'tail boom', 'fuel cap'];
const PLAN = {
  rules: '',
  start: 'start',
  groups: { start: { name: 1 }, said: { good: 1 }, over: { end: 1 } },
  hubs: {
    name: NAMES.map((name) => ({ say: name, then: 'said' })),
    good: [{ say: 'secure', then: 'over' }],
  },
};
const GRAMMAR = { plan: PLAN, words: [] };

function stage(options: { refused?: boolean } = {}) {
  const time = fakeTime();
  const log: string[] = [];
  const got: ToWorker[] = [];
  let message: (m: FromWorker) => void = () => undefined;
  let changed: (state: MicrophoneState, words: string) => void = () => undefined;
  let take: (samples: Float32Array) => void = () => undefined;
  const check = earCheck<{ getAudioTracks: () => [] }>({
    modelBase: 'model/',
    grammar: GRAMMAR,
    kept: null,
    wait: time.wait,
    microphone: {
      open: () =>
        Promise.resolve(
          options.refused === true
            ? { ok: false, trouble: 'permission', sentence: 'The microphone is not allowed.' }
            : { ok: true, stream: { getAudioTracks: () => [] } },
        ),
      stream: () => null,
      onChange(taker) {
        changed = taker;
        return () => undefined;
      },
      close: () => void log.push('microphone closed'),
    },
    tap(_, taker) {
      take = taker;
      return Promise.resolve({
        rate: RATE,
        resume: () => Promise.resolve(),
        close: () => void log.push('tap closed'),
      });
    },
    worker: (): WorkerLike => ({
      post: (m) => void got.push(m),
      onMessage: (t) => void (message = t),
      onDeath: () => undefined,
      end: () => void log.push('worker ended'),
    }),
    onLevel: () => undefined,
    onState: (state, words) => void log.push(`${state}: ${words}`),
    onChecked: (text, { understood }) => void log.push(`${text}: ${String(understood)}`),
    onAdapted: (adapted) => void log.push(`adapted ${String(adapted.ok)}`),
  });
  return {
    time,
    check,
    log,
    got,
    say: (m: FromWorker) => message(m),
    change: (state: MicrophoneState, words: string) => changed(state, words),
    sound: () => take(new Float32Array(40).fill(0.1)),
  };
}

test('phrases of this aircraft are read to a recogniser of their own', async () => {
  const s = stage();
  expect(s.check.phrases).toHaveLength(NAMES.length);
  await s.check.start();
  s.say({ kind: 'ready' });
  s.check.read('oil level secure');
  s.sound();
  expect(s.got.map((m) => m.kind)).toEqual(['open', 'read', 'sound']);
  s.say({ kind: 'begun', from: 0 });
  const sound = { level: -20, snr: 30, begins: 0, ends: 1, voiced: 1 };
  s.say({ kind: 'checked', text: 'oil level secure', understood: true, sound });
  s.check.adapt();
  expect(s.got.at(-1)).toEqual({ kind: 'adapt', kept: null });
  s.say({ kind: 'adapted', adapted: { ok: false, why: 'few' } });
  expect(s.log.filter((l) => /true|adapted/.test(l))).toEqual([
    'oil level secure: true',
    'adapted false',
  ]);
  s.check.stop();
  expect(s.log.slice(-3)).toEqual(['tap closed', 'worker ended', 'microphone closed']);
});

test.each([
  [
    'the microphone goes',
    (s: ReturnType<typeof stage>) => s.change('lost', 'It is gone.'),
    'It is gone. The ear check was broken off; nothing was kept.',
  ],
  [
    'the model is missing',
    (s: ReturnType<typeof stage>) => s.say({ kind: 'failed', why: 'The model is cut.' }),
    'The model is cut.',
  ],
  [
    'the recogniser does not come',
    (s: ReturnType<typeof stage>) => s.time.pass(60),
    'The recogniser did not answer.',
  ],
] as const)(
  'broken off in the middle: %s: one sentence, and everything is closed',
  async (_, go, words) => {
    const s = stage();
    await s.check.start();
    await go(s);
    expect(s.log.filter((l) => l.startsWith('trouble'))).toEqual([`trouble: ${words}`]);
    expect(s.log).toContain('worker ended');
    expect(s.log).toContain('microphone closed');
  },
);

test('a microphone that is not allowed: said, and no recogniser is begun', async () => {
  const s = stage({ refused: true });
  await s.check.start();
  expect(s.log.at(-1)).toBe('trouble: The microphone is not allowed.');
  expect(s.got).toEqual([]);
});

test('with the real recogniser: read phrases are no words of a walk (R1), fit it, and then it hears', async () => {
  const folder = join(dirname(createRequire(import.meta.url).resolve('soundswallower')), 'model/');
  const told: FromWorker[] = [];
  const decoder = await loadDecoder(folder);
  const take = createEngine(
    () => Promise.resolve(decoder),
    (m) => told.push(m),
  );
  await take({ kind: 'open', modelBase: '', ...GRAMMAR });
  const speak = async (text: string) => {
    const { samples } = joined([await say(text, 'slt')], 0.8);
    for (let at = 0; at < samples.length; at += 640)
      await take({ kind: 'sound', samples: samples.subarray(at, at + 640), rate: RATE });
  };
  for (const name of NAMES.slice(0, 3)) {
    await take({ kind: 'read', text: `${name} secure` });
    await speak(`${name} secure`);
  }
  expect(told.filter((m) => m.kind === 'checked').map((m) => m.understood)).toEqual([
    true,
    true,
    true,
  ]);
  expect(told.some((m) => m.kind === 'ended')).toBe(false);
  await take({ kind: 'adapt', kept: null });
  const adapted: Adapted | undefined = told.flatMap((m) =>
    m.kind === 'adapted' ? [m.adapted] : [],
  )[0];
  expect(adapted?.ok).toBe(true);
  await speak('fuel cap secure');
  const heard = told.flatMap((m) => (m.kind === 'ended' ? [m.hearing?.text ?? null] : []));
  expect(heard).toEqual(['fuel cap secure']);
  decoder.close();
}, 240_000);

test('18: with the real recogniser: what it makes of a name, the sounds that it heard, and an author’s pronunciation beside the dictionary’s', async () => {
  const folder = join(dirname(createRequire(import.meta.url).resolve('soundswallower')), 'model/');
  const said = joined([await say('tow band', 'rms')], 0.8).samples;
  /** The name "tow hook", where somebody says "tow band" for it. */
  async function tried(words: readonly { word: string; phones: readonly string[] }[]) {
    const told: FromWorker[] = [];
    const decoder = await loadDecoder(folder);
    const take = createEngine(
      () => Promise.resolve(decoder),
      (m) => told.push(m),
    );
    const names = [...NAMES, 'tow hook'].map((name) => ({ say: name, then: 'over' }));
    const plan = { ...PLAN, hubs: { ...PLAN.hubs, name: names } };
    await take({ kind: 'open', modelBase: '', plan, words });
    await take({ kind: 'read', text: 'tow hook', near: ['tow hook', 'tail boom'] });
    for (let at = 0; at < said.length; at += 640)
      await take({ kind: 'sound', samples: said.subarray(at, at + 640), rate: RATE });
    const ways = [decoder.has('hook'), decoder.has('hook(2)'), decoder.has('hook(3)')];
    decoder.close();
    // Nothing of it is a word of a walk (R1).
    expect(told.some((m) => m.kind === 'ended')).toBe(false);
    return { checked: told.find((m) => m.kind === 'checked'), ways };
  }
  const before = await tried([]);
  expect(before.checked).toMatchObject({ text: 'tow hook', understood: false });
  expect(before.checked?.tried?.heard).not.toBe('tow hook');
  // What its loop of sounds made of "tow band": the vowels and the b between them.
  expect(before.checked?.tried?.sounds.join(' ')).toMatch(/OW.* B .*AE/);
  const own = { word: 'hook', phones: ['B', 'AE', 'N', 'D'] };
  const after = await tried([own, own, { word: 'hook', phones: ['HH', 'UH', 'K'] }]);
  expect(after.checked).toMatchObject({ understood: true, tried: { heard: 'tow hook' } });
  // Once beside the dictionary's own, however often it is written.
  expect(after.ways).toEqual([true, true, false]);
}, 120_000);
