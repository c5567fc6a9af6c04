import { expect, test } from 'vitest';
import { heardOf, listeners, type Ear } from '#capture';
import type { Listening, Pulse } from '#screens';
import { FIRST_SCENE } from '#shared/scene';
import { memoryStore } from '#store';
import { hearingOf } from '../../src/wire/hearing.ts';
import { liveValue } from '../../src/wire/live-value.ts';
import { localEar } from '../../src/wire/local-ear.ts';
import { recognitionDouble } from '../capture/recognition.ts';
import { fakeTime } from '../capture/time.ts';
import { walkingStage } from './walking-stage.ts';

/* Two recognisers on one sound, in the house: what counts, what is asked, and getting the browser's. */

async function walk() {
  const s = await walkingStage();
  let ids = 0;
  return {
    ...s,
    /** Ours, which comes when the other one's words have gone out. */
    async late(second: string, first: string) {
      s.ears.at(-1)?.out.heard(
        heardOf({
          id: `late-${(ids += 1)}`,
          by: 'embedded',
          text: second,
          alternatives: [{ text: first, confidence: null, by: 'browser', told: true }],
          from: s.time.seconds() - 1,
          to: s.time.seconds(),
        }),
      );
      await s.time.pass(0.5);
    },
    async both(first: string, second: string) {
      s.ears.at(-1)?.out.heard(
        heardOf({
          id: `two-${(ids += 1)}`,
          by: 'browser',
          text: first,
          alternatives: [{ text: second, confidence: null, by: 'embedded' }],
          from: s.time.seconds() - 1,
          to: s.time.seconds(),
        }),
      );
      await s.time.pass(0.5);
    },
  };
}

test('R1: both hear the same: it counts, and nothing is asked', async () => {
  const s = await walk();
  await s.both('oil level six quarts', 'oil level six quarts');
  expect(s.standing('oil')).toBe('spoken');
  expect(s.view.get()?.question).toBeNull();
});

test('R4, R5: one hears a good and the other a fault: no credit, and the fault is asked about at once', async () => {
  const s = await walk();
  await s.both('drive belts are in good condition', 'drive belts are cracked');
  expect(s.standing('belts')).not.toBe('spoken');
  const asked = s.view.get()?.question;
  expect(asked?.kind).toBe('polarity');
  expect(asked?.text.toLowerCase()).toContain('drive belt');
  // Said plainly and heard the same by both, it is settled.
  await s.time.pass(10);
  await s.both('good', 'good');
  expect(s.view.get()?.question).toBeNull();
  expect(s.view.get()?.coverage.findings ?? []).toEqual([]);
});

test('what ours says late: nothing new is neither shown nor answered, a fault is asked about (R4)', async () => {
  const s = await walk();
  await s.both('oil level six quarts', 'oil level six quarts');
  const shown = s.view.get()?.last;
  const answered = s.log.length;
  await s.late('oil level is six quarts', 'oil level six quarts');
  expect(s.view.get()?.last).toBe(shown);
  expect(s.log.slice(answered).filter((l) => l.startsWith('<'))).toEqual([]);
  expect(s.standing('oil')).toBe('spoken');
  await s.time.pass(10);
  await s.both('drive belts are in good condition', 'drive belts are in good condition');
  await s.late('drive belts are cracked', 'drive belts are in good condition');
  expect(s.view.get()?.question?.kind).toBe('polarity');
  // R6: the good that was heard by one is there; the doubt about it is not lost either.
  expect(s.standing('belts')).not.toBe('spoken');
});

test('R10: both readings are on the disk, with who heard which', async () => {
  const s = await walk();
  await s.both('oil level six quarts', 'oil level fix quarts');
  const events = await s.store.walk(s.walking.session.walk);
  const [heard] = events.flatMap((e) => (e.what.kind === 'heard' ? [e.what.heard] : []));
  expect(heard).toMatchObject({
    by: 'browser',
    sentAway: false,
    alternatives: [{ text: 'oil level fix quarts', by: 'embedded' }],
  });
});

test('the screen is told which listen, also when the other one falls silent', async () => {
  const listening = liveValue<Listening>({ state: 'typed', ear: 'typed' });
  const out = listeners();
  let beside: string | null = null;
  const ear: Ear = {
    kind: 'browser',
    name: 'The browser',
    sendsAway: false,
    get beside() {
      return beside;
    },
    start: () => Promise.resolve(out.state('listening', 'Listening.')),
    stop: () => Promise.resolve(),
    pause: () => undefined,
    resume: () => undefined,
    expect: () => undefined,
    ...out.on,
  };
  const told: string[] = [];
  const hearing = hearingOf({
    seconds: () => 0,
    listening,
    pulse: liveValue<Pulse>({ level: 0, partial: '' }),
    held: () => false,
    scene: () => FIRST_SCENE,
    openEar: () => Promise.resolve(ear),
    onHeard: () => undefined,
    onNoted: () => undefined,
    onInterruption: () => undefined,
    onTrouble: (sentence) => told.push(sentence),
    onLost: () => undefined,
    voice: { announce: () => undefined, hearing: () => undefined },
  });
  await hearing.listenWith('embedded');
  const shown = { state: 'listening', ear: 'browser', sentAway: false };
  expect(listening.get()).toEqual({ ...shown, here: 'browser' });
  beside = 'Ours';
  out.state('listening', 'Listening, both.');
  expect(listening.get()).toEqual({ ...shown, here: 'both' });
  beside = null;
  out.notice({ kind: 'one-ear', sentence: 'Only one recogniser listens.' });
  out.state('listening', 'Listening.');
  expect(listening.get()).toEqual({ ...shown, here: 'browser' });
  expect(told).toEqual(['Only one recogniser listens.']);
});

async function getting(options: Parameters<typeof recognitionDouble>[2]) {
  const time = fakeTime();
  const store = await memoryStore(time.world);
  const again = async (to = options) => {
    const { platform, asked } = recognitionDouble(time, [[]], to);
    const local = localEar({ platform, store, wait: time.wait });
    await time.pass(0);
    return { local, asked, now: () => local.now.get() };
  };
  return { time, store, again, ...(await again()) };
}

test('where it could be installed it is offered, and nothing is installed without a yes', async () => {
  const s = await getting({ available: 'downloadable', install: 'done' });
  expect(s.now()).toEqual({ state: 'offered', declined: false });
  expect(s.asked).toEqual(['available here']);
  void s.local.install();
  await s.time.pass(1);
  expect(s.now()).toEqual({ state: 'coming' });
  // Pressed twice it is asked for once.
  void s.local.install();
  await s.time.pass(40);
  expect(s.now()).toEqual({ state: 'here' });
  expect(s.asked.filter((a) => a.startsWith('install'))).toEqual(['install en-US']);
});

test('declined, it is not offered again, also not after a new start; the settings still have it', async () => {
  const s = await getting({ available: 'downloadable', install: 'done' });
  await s.local.decline();
  expect(s.now()).toEqual({ state: 'offered', declined: true });
  const next = await s.again();
  expect(next.now()).toEqual({ state: 'offered', declined: true });
  void next.local.install();
  await s.time.pass(40);
  expect(next.now()).toEqual({ state: 'here' });
});

test.each(['refused', 'throws', 'empty'] as const)(
  'an installation that comes to nothing (%s): said, and it can be tried again',
  async (install) => {
    const s = await getting({ available: 'downloadable', install });
    void s.local.install();
    await s.time.pass(40);
    expect(s.now()).toEqual({
      state: 'offered',
      declined: false,
      why: expect.stringContaining('could not install') as string,
    });
    // Not taken for a no.
    expect((await s.again()).now()).toMatchObject({ state: 'offered', declined: false });
  },
);

test.each([
  ['available', 'here'],
  ['downloading', 'coming'],
  ['unavailable', 'none'],
  ['throws', 'none'],
] as const)('the browser says %s: %s, and nothing is offered', async (available, state) => {
  const s = await getting({ available, install: 'done' });
  expect(s.now()).toEqual({ state });
  await s.local.install();
  expect(s.asked).toEqual(['available here']);
});
