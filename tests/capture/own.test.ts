import { READY } from '../../src/capture/own/ear.ts';
import { expect, test } from 'vitest';
import { ownEar, type EarNotice, type WorkerLike } from '#capture';
import { FIRST_SCENE } from '#shared/scene';
import type { Heard } from '#shared/heard';
import type { FromWorker, ToWorker } from '../../src/capture/own/protocol.ts';
import type { Hearing } from '../../src/capture/embedded/recognise.ts';
import { fakeTime } from './time.ts';

const RATE = 1000;
const PLAN = {} as Parameters<typeof ownEar>[0]['plan'];
const SOUND = { level: -20, snr: 30, begins: 0.5, ends: 1, voiced: 0.5 };
const hearing = (text: string): Hearing => ({ text, words: [], confidence: 1, alternatives: [] });

interface Hand {
  readonly got: ToWorker[];
  say(message: FromWorker): void;
  die(why?: string): void;
  ended: boolean;
}

function stage(options: { tapFails?: string; stream?: boolean } = {}) {
  const time = fakeTime();
  const log: string[] = [];
  const heard: Heard[] = [];
  const hands: Hand[] = [];
  let take: (samples: Float32Array) => void = () => undefined;
  const ear = ownEar<object>({
    world: time.world,
    seconds: () => time.seconds(),
    modelBase: 'model/',
    plan: PLAN,
    words: [],
    near: (scene) => (scene.station === null ? [] : [scene.station]),
    stream: () => (options.stream === false ? null : {}),
    tap(_, taker) {
      if (options.tapFails !== undefined) return Promise.reject(new Error(options.tapFails));
      take = taker;
      return Promise.resolve({
        rate: RATE,
        resume: () => Promise.resolve(),
        close: () => void log.push('tap closed'),
      });
    },
    worker(): WorkerLike {
      let message: (m: FromWorker) => void = () => undefined;
      let death: (why: string) => void = () => undefined;
      const hand: Hand = {
        got: [],
        say: (m) => message(m),
        die: (why = 'it broke') => death(why),
        ended: false,
      };
      hands.push(hand);
      return {
        post(m) {
          hand.got.push(m);
        },
        onMessage: (t) => void (message = t),
        onDeath: (t) => void (death = t),
        end: () => void (hand.ended = true),
      };
    },
    wait: time.wait,
  });
  ear.onHeard((h) => heard.push(h));
  ear.onState((state, sentence, trouble) =>
    log.push(state === 'trouble' ? `! ${trouble ?? ''} ${sentence}` : state),
  );
  return {
    time,
    ear,
    log,
    heard,
    hands,
    hand: () => {
      const last = hands.at(-1);
      if (last === undefined) throw new Error('no worker');
      return last;
    },
    /** Seconds of sound, in blocks of 0.1 s, in real time. */
    async sound(seconds: number, value = 0.1) {
      for (let i = 0; i < Math.round(seconds * 10); i += 1) {
        await time.pass(0.1);
        take(new Float32Array(RATE / 10).fill(value));
      }
    },
  };
}
const sounds = (hand: Hand) => hand.got.filter((m) => m.kind === 'sound').length;

async function ready() {
  const s = stage();
  void s.ear.start();
  await s.time.pass(0);
  s.hand().say({ kind: 'ready' });
  await s.time.pass(0);
  return s;
}

test('an utterance gets the times of the walk', async () => {
  const s = stage();
  await s.time.pass(100);
  void s.ear.start();
  await s.time.pass(5);
  s.hand().say({ kind: 'ready' });
  await s.sound(3);
  s.hand().say({ kind: 'begun', from: 1 });
  s.hand().say({ kind: 'ended', hearing: hearing('belts good'), from: 1, to: 2, sound: SOUND });
  expect(s.heard[0]).toMatchObject({ text: 'belts good', by: 'embedded', sentAway: false });
  // The stream began at 105 s.
  expect(s.heard[0]?.from).toBeCloseTo(106, 1);
  expect(s.log).toEqual(['starting', 'listening', 'hearing', 'listening']);
});

test('issue 17: how much of the model is here is told while it comes', async () => {
  const s = stage();
  const shares: number[] = [];
  s.ear.onLoading((share) => shares.push(share));
  void s.ear.start();
  await s.time.pass(0);
  s.hand().say({ kind: 'loading', share: 0.4 });
  s.hand().say({ kind: 'loading', share: 1 });
  s.hand().say({ kind: 'ready' });
  expect(shares).toEqual([0.4, 1]);
});

test('a slow network is waited for as long as pieces of the model come, and begun anew when none does', async () => {
  const s = stage();
  void s.ear.start();
  await s.time.pass(0);
  for (let share = 0.1; share < 0.9; share += 0.1) {
    await s.time.pass(READY * 0.8);
    s.hand().say({ kind: 'loading', share });
  }
  expect(s.hands).toHaveLength(1);
  await s.time.pass(2 * READY + 1);
  expect(s.hands.length).toBeGreaterThan(1);
});

test('the platform was asleep for a while: what follows has the times after it', async () => {
  const s = await ready();
  await s.sound(2);
  await s.time.pass(60);
  await s.sound(1);
  s.hand().say({ kind: 'ended', hearing: hearing('belts good'), from: 2, to: 3, sound: SOUND });
  expect(s.heard[0]?.from).toBeCloseTo(62, 0);
});

test('issue 20: speech without words goes out as lost, with when and how it sounded', async () => {
  const s = await ready();
  const notices: EarNotice[] = [];
  s.ear.onNotice((n) => notices.push(n));
  await s.sound(2);
  s.hand().say({ kind: 'ended', hearing: null, from: 0, to: 1, sound: SOUND });
  expect(s.heard).toEqual([]);
  expect(notices).toMatchObject([{ kind: 'lost', sound: SOUND }]);
  // From the first speech frame on, not from the silence that is kept before it.
  expect((notices[0]?.to ?? 0) - (notices[0]?.from ?? 0)).toBeCloseTo(0.5, 5);
  // What is let out while it is closed was not said to the walk.
  void s.ear.stop();
  s.hand().say({ kind: 'ended', hearing: null, from: 1, to: 2, sound: SOUND });
  expect(notices).toHaveLength(1);
});

test('a worker that dies: the next one gets what was not done, and the times hold', async () => {
  const s = await ready();
  await s.sound(4);
  s.hand().say({ kind: 'done', upTo: 2 });
  await s.sound(1);
  s.hand().die();
  await s.time.pass(0);
  expect(s.hands[0]?.ended).toBe(true);
  expect(s.log.at(-1)).toBe('starting');
  // From 2 s to 5 s, in tenths.
  expect(sounds(s.hand())).toBe(30);
  s.hand().say({ kind: 'ready' });
  s.hand().say({
    kind: 'ended',
    hearing: hearing('crack in the skid'),
    from: 1,
    to: 2.5,
    sound: SOUND,
  });
  expect(s.heard[0]?.from).toBeCloseTo(3, 1);
  expect(s.log.at(-1)).toBe('listening');
});

test('a worker that dies after an utterance: it is not heard twice', async () => {
  const s = await ready();
  await s.sound(3);
  s.hand().say({ kind: 'ended', hearing: hearing('belts good'), from: 1, to: 2.5, sound: SOUND });
  s.hand().die();
  await s.time.pass(0);
  expect(sounds(s.hand())).toBe(5);
});

test('a worker that stops answering is replaced', async () => {
  const s = await ready();
  for (let i = 0; i < 8; i += 1) {
    await s.time.pass(2);
    s.hand().say({ kind: 'pong' });
  }
  expect(s.hands).toHaveLength(1);
  await s.time.pass(13);
  expect(s.hands).toHaveLength(2);
});

test('again and again: given up, said, nothing runs on', async () => {
  const s = await ready();
  for (let i = 0; i < 6; i += 1) {
    s.hand().die('out of memory');
    await s.time.pass(1);
  }
  expect(s.hands.length).toBe(4);
  expect(s.log.at(-1)).toBe(
    '! files The recogniser of this device stopped again and again: out of memory.',
  );
  expect(s.hands.every((h) => h.ended)).toBe(true);
  expect(s.log).toContain('tap closed');
});

test('the model is missing, or never comes', async () => {
  const s = stage();
  void s.ear.start();
  await s.time.pass(0);
  s.hand().say({
    kind: 'failed',
    why: 'Its file "means" is cut. Open the page once with a network.',
  });
  expect(s.log.at(-1)).toBe('! files Its file "means" is cut. Open the page once with a network.');
  const slow = stage();
  void slow.ear.start();
  await slow.time.pass(200);
  expect(slow.log.at(-1)).toMatch(/^! files The recogniser of this device stopped again and again/);
});

test('no microphone, or one that cannot be tapped', async () => {
  const none = stage({ stream: false });
  await none.ear.start();
  expect(none.log.at(-1)).toMatch(/^! microphone/);
  const shut = stage({
    tapFails: 'The browser lets no sound through yet. Touch the screen and start again.',
  });
  await shut.ear.start();
  expect(shut.log.at(-1)).toBe(
    '! microphone The browser lets no sound through yet. Touch the screen and start again.',
  );
});

test('stop waits for the last words, and no longer than 4 s for a worker that does not answer', async () => {
  const s = await ready();
  await s.sound(1);
  let done = false;
  void s.ear.stop().then(() => (done = true));
  await s.time.pass(1);
  expect(done).toBe(false);
  s.hand().say({ kind: 'ended', hearing: hearing('last words'), from: 0, to: 1, sound: SOUND });
  s.hand().say({ kind: 'flushed' });
  await s.time.pass(0);
  expect(done).toBe(true);
  expect(s.heard.map((h) => h.text)).toEqual(['last words']);
  const mute = await ready();
  let over = false;
  void mute.ear.stop().then(() => (over = true));
  await mute.time.pass(5);
  expect(over).toBe(true);
});

test('paused it lets out what was begun and takes nothing; the scene goes to the worker', async () => {
  const s = await ready();
  await s.sound(1);
  s.ear.pause();
  s.hand().say({ kind: 'ended', hearing: hearing('begun before'), from: 0, to: 1, sound: SOUND });
  s.hand().say({ kind: 'flushed' });
  const before = sounds(s.hand());
  await s.sound(1);
  expect(sounds(s.hand())).toBe(before);
  s.ear.resume();
  await s.sound(1);
  expect(sounds(s.hand())).toBe(before + 10);
  expect(s.heard.map((h) => h.text)).toEqual(['begun before']);
  s.ear.expect({ ...FIRST_SCENE, station: 'tail' });
  expect(s.hand().got.at(-1)).toEqual({ kind: 'expect', near: ['tail'], question: null });
});

test('a question that waits for its answer reaches the worker, and the one after it', async () => {
  const s = await ready();
  const question = {
    id: 'q1',
    about: 's1',
    kind: 'severity',
    text: 'How bad?',
    options: [],
  } as const;
  s.ear.expect({ ...FIRST_SCENE, station: 'tail', question: { ...question, options: [] } });
  const expected = { kind: 'expect', near: ['tail'], question: 'severity' };
  expect(s.hand().got.at(-1)).toEqual(expected);
  s.hand().die();
  await s.time.pass(0);
  expect(s.hand().got).toContainEqual(expected);
});

test('a worker that dies while it is flushed: stop ends all the same', async () => {
  const s = await ready();
  await s.sound(1);
  let over = false;
  void s.ear.stop().then(() => (over = true));
  await s.time.pass(0);
  s.hand().die();
  await s.time.pass(0);
  expect(over).toBe(true);
});
