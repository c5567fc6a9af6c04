import { readFileSync } from 'node:fs';
import { expect } from 'vitest';
import { editionOf } from '#catalogue';
import { heardOf, listeners, type Listeners } from '#capture';
import { createGrammar, parseDictionary } from '#grammar';
import type { EarKind, Listening, Pulse, WalkView } from '#screens';
import { createVoice, type Talk } from '#speak';
import { memoryStore } from '#store';
import type { OpenedEar } from '../../src/wire/hearing.ts';
import { liveValue } from '../../src/wire/live-value.ts';
import { createWalking } from '../../src/wire/walking.ts';
import { fakeTime } from '../capture/time.ts';
import { CATALOGUE } from '../speak/fixture.ts';
import { testWeights } from '../weights.ts';

const GRAMMAR = createGrammar(CATALOGUE, {
  weights: testWeights(),
  pronunciations: parseDictionary(
    readFileSync('node_modules/soundswallower/model/en-us/dict.txt', 'utf8'),
  ),
});

export interface StageOptions {
  readonly reconsider?: boolean;
  readonly talk?: Talk;
  /** false: no voice. */
  readonly able?: boolean;
  /** Id of the recording that all that is heard lies in, from this second of the walk on. */
  readonly recording?: { readonly id: string; readonly from: number };
}

/** A walk begun over doubles of ear, voice and disk; the rest is real. */
export async function walkingStage(options: StageOptions = {}) {
  const talk = () => options.talk ?? 'exceptions';
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
    talk,
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
          able: options.able ?? true,
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
        talk,
      }),
    steps: () => [],
    atFinish: () => [],
  });
  let ids = 0;
  function heard(text: string, from: number) {
    ids += 1;
    const to = from + 0.4;
    const kept = options.recording;
    const sound = kept && { recording: kept.id, from: from - kept.from, to: to - kept.from };
    return heardOf({ id: `h${String(ids)}`, by: 'embedded', text, from, to, sound: sound ?? null });
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
    /** An utterance that began so many seconds ago. */
    async say(text: string, ago = 0) {
      log.push(`> ${text}`);
      ears.at(-1)?.out.heard(heard(text, time.seconds() - ago));
      await time.pass(0.6);
    },
    async words() {
      const events = await store.walk(walking.session.walk);
      return events.flatMap((e) => (e.what.kind === 'heard' ? [e.what.heard.text] : []));
    },
    standing: (id: string) => view.get()?.coverage.checks.find((c) => c.check === id)?.standing,
  };
}
