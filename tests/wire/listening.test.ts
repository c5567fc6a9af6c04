import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { editionOf } from '#catalogue';
import { heardOf, listeners, type Listeners } from '#capture';
import { createGrammar, parseDictionary } from '#grammar';
import type { EarKind, Listening, Pulse, WalkView } from '#screens';
import { createVoice } from '#speak';
import { memoryStore } from '#store';
import type { OpenedEar } from '../../src/wire/hearing.ts';
import { liveValue } from '../../src/wire/live-value.ts';
import { createWalking, TRY_AGAIN } from '../../src/wire/walking.ts';
import { fakeTime } from '../capture/time.ts';
import { CATALOGUE } from '../speak/fixture.ts';

/* The bad days of a walk: what is shown, what is spoken, and that nothing heard is lost. */

const GRAMMAR = createGrammar(CATALOGUE, {
  pronunciations: parseDictionary(
    readFileSync('node_modules/soundswallower/model/en-us/dict.txt', 'utf8'),
  ),
});

/** A walk begun over doubles of ear, voice and disk. */
async function stage(options: { reconsider?: boolean } = {}) {
  const time = fakeTime();
  /** Seconds by which the device's clock was stepped. */
  let stepped = 0;
  const world = { ...time.world, now: () => time.world.now() + stepped * 1000 };
  const log: string[] = [];
  const store = await memoryStore(world);
  let full = false;
  const view = liveValue<WalkView | null>(null);
  const listening = liveValue<Listening>({ state: 'typed', ear: 'typed' });
  const pulse = liveValue<Pulse>({ level: 0, partial: '' });
  const ears: { out: Listeners; kind: EarKind }[] = [];
  const interruptions: Parameters<
    Parameters<typeof createWalking>[0]['openEar']
  >[1]['onInterruption'][] = [];
  listening.subscribe(() => log.push(`[${listening.get().state}]`));
  const walking = createWalking({
    store: {
      ...store,
      append: (drafts) =>
        full ? Promise.reject(new Error('The disk is full.')) : store.append(drafts),
    },
    world,
    catalogue: CATALOGUE,
    edition: editionOf(CATALOGUE),
    reader: GRAMMAR,
    view,
    listening,
    pulse,
    talk: () => 'exceptions',
    wait: time.wait,
    openEar(kind, hooks) {
      const out = listeners();
      ears.push({ out, kind });
      interruptions.push(hooks.onInterruption);
      const ear: OpenedEar = {
        kind: kind === 'browser' ? 'browser' : kind === 'typed' ? 'typed' : 'embedded',
        name: kind,
        sendsAway: kind === 'browser',
        start() {
          log.push(`start ${kind}`);
          out.state('listening', 'Listening.');
          return Promise.resolve();
        },
        stop() {
          log.push(`stop ${kind}`);
          // What was being heard goes out before it is closed.
          out.heard(heard('oil six quarts', time.seconds() - 0.5));
          return Promise.resolve();
        },
        pause: () => undefined,
        resume: () => undefined,
        expect: () => undefined,
        ...out.on,
        ...(options.reconsider === true
          ? {
              reconsider() {
                hooks.onChanged('browser-service', 'The setting was changed. It listens.');
                return Promise.resolve();
              },
            }
          : {}),
      };
      return Promise.resolve(ear);
    },
    openVoice: (needs) =>
      createVoice({
        ...needs,
        synth: {
          able: true,
          say(text) {
            log.push(`< ${text}`);
            return new Promise((resolve) => time.wait(1, () => resolve(true)));
          },
          cancel: () => undefined,
        },
        sounder: {
          sound(name) {
            log.push(`< (${name})`);
            return Promise.resolve();
          },
        },
        wait: time.wait,
        talk: () => 'exceptions',
      }),
    steps: () => [],
    atFinish: () => [],
  });
  let ids = 0;
  function heard(text: string, from: number) {
    ids += 1;
    return heardOf({ id: `h${String(ids)}`, by: 'embedded', text, from, to: from + 0.4 });
  }
  const begun = await walking.begin(
    {
      aircraft: 'Demo One',
      catalogue: 'trial',
      circumstances: [],
      pilot: null,
      instructor: null,
      hours: null,
      ear: 'embedded',
    },
    editionOf(CATALOGUE),
    [],
  );
  expect(begun).toMatchObject({ ok: true });
  await time.pass(20);
  log.length = 0;
  return {
    time,
    log,
    walking,
    view,
    listening,
    ears,
    store,
    interrupted: (...a: Parameters<(typeof interruptions)[number]>) => interruptions.at(-1)?.(...a),
    stepClock: (by: number) => (stepped += by),
    fill: (now: boolean) => (full = now),
    async say(text: string) {
      ears.at(-1)?.out.heard(heard(text, time.seconds()));
      await time.pass(0.6);
    },
    async words() {
      const events = await store.walk(walking.session.walk);
      return events.flatMap((e) => (e.what.kind === 'heard' ? [e.what.heard.text] : []));
    },
    standing: (id: string) => view.get()?.coverage.checks.find((c) => c.check === id)?.standing,
  };
}

test('R10 disk full: shown and spoken, kept in hand, and written as soon as there is room', async () => {
  const s = await stage();
  s.fill(true);
  await s.say('drive belts are in good condition');
  await s.say('oil level six quarts');
  expect(s.view.get()?.trouble).toContain('The last 2 things you said are not kept yet.');
  expect(s.log.filter((l) => l === '< (stopped)').length).toBeGreaterThan(0);
  // R10: not written, not acknowledged, not counted.
  expect(s.log).not.toContain('< (understood)');
  expect(s.standing('oil')).toBe('unspoken');
  await s.time.pass(TRY_AGAIN * 2);
  expect(await s.words()).toEqual([]);
  s.fill(false);
  await s.time.pass(TRY_AGAIN * 2);
  expect(await s.words()).toEqual(['drive belts are in good condition', 'oil level six quarts']);
  expect(s.view.get()?.trouble).toBe(null);
  expect(s.standing('oil')).toBe('spoken');
  await s.time.pass(30);
  expect(s.log.some((l) => l.includes('What waited is written.'))).toBe(true);
});

test('permission withdrawn: shown and spoken; "listen again" opens the same ear and lifts no hold', async () => {
  const s = await stage();
  s.ears[0]?.out.state('trouble', 'The microphone is not allowed.', 'permission');
  s.interrupted('sound-lost', 'The microphone is gone; the walk is held.', false);
  await s.time.pass(10);
  expect(s.listening.get()).toMatchObject({
    state: 'deaf',
    why: 'The microphone is not allowed.',
  });
  expect(s.log).toContain('< The microphone is not allowed.');
  expect(s.view.get()?.coverage.held).toBe(true);
  await s.walking.listenAgain();
  expect(s.ears).toHaveLength(1);
  expect(s.log).toContain('start embedded');
  expect(s.listening.get().state).toBe('held');
  await s.say('resume');
  expect(s.listening.get().state).not.toBe('held');
});

test('a result said during a hold by the pilot is answered once with what to say', async () => {
  const s = await stage();
  await s.say('hold');
  await s.time.pass(10);
  await s.say('drive belts are in good condition');
  await s.time.pass(10);
  await s.say('rivet line is good');
  await s.time.pass(10);
  expect(s.log.filter((l) => l.startsWith('< The walk is held'))).toEqual([
    '< The walk is held; say resume.',
  ]);
  await s.say('resume');
  await s.time.pass(10);
  await s.say('hold');
  await s.time.pass(10);
  await s.say('rivet line is good');
  await s.time.pass(10);
  expect(s.log.filter((l) => l.startsWith('< The walk is held'))).toHaveLength(2);
});

test('the setting changed in mid-walk: the open ear changes by itself, said, no gap', async () => {
  const s = await stage({ reconsider: true });
  await s.walking.listenWith('browser');
  await s.time.pass(10);
  expect(s.ears).toHaveLength(1);
  expect(s.log).not.toContain('stop embedded');
  expect(s.log).toContain('< The setting was changed. It listens.');
  const events = await s.store.walk(s.walking.session.walk);
  expect(events.some((e) => e.what.kind === 'listening-changed')).toBe(true);
});

test('to the keyboard and back: what was being heard is taken before the ear is closed', async () => {
  const s = await stage();
  await s.walking.listenWith('typed');
  await s.time.pass(5);
  expect(s.log).toContain('stop embedded');
  expect(await s.words()).toEqual(['oil six quarts']);
  await s.walking.listenWith('embedded');
  expect(s.ears.map((e) => e.kind)).toEqual(['embedded', 'typed', 'embedded']);
});

test('a recogniser that sends sound away is named when it begins to listen', async () => {
  const s = await stage();
  await s.walking.listenWith('browser');
  await s.time.pass(10);
  expect(s.log).toContain('< The sound of your voice leaves this device.');
});

test('the device clock steps, back and forth: order and times of what was said stand', async () => {
  const s = await stage();
  await s.say('drive belts are in good condition');
  s.stepClock(-3600);
  await s.time.pass(5);
  await s.say('oil level six quarts');
  s.stepClock(7200);
  await s.time.pass(5);
  await s.say('rivet lines are all good');
  const events = await s.store.walk(s.walking.session.walk);
  const times = events.flatMap((e) => (e.what.kind === 'heard' ? [e.t ?? -1] : []));
  expect(times).toHaveLength(3);
  // Seconds since the walk began, by the clock that cannot jump.
  expect((times[1] ?? 0) - (times[0] ?? 0)).toBeCloseTo(5.6, 1);
  expect((times[2] ?? 0) - (times[1] ?? 0)).toBeCloseTo(5.6, 1);
  expect(s.standing('oil')).toBe('spoken');
  expect(s.standing('rivets')).toBe('spoken');
});
