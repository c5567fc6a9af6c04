import { v7 } from 'uuid';
import { z } from 'zod';
import type { Draft, Happening } from '#shared/event';
import type { World } from '#shared/log';
import { openStore, verifyEvents, type Store } from '#store';
import { seeded } from '../random.ts';
import { act, lookAtActs } from './acts.ts';
import { wavOf } from './wav.ts';

/**
 * The page that the ordeals drive. It is not a part of the app: it opens the
 * same store and talks into it as fast as it is told to.
 */
z.config({ jitless: true });

declare global {
  /** To the one who drives: made by the debugging protocol. */
  var tell: ((text: string) => void) | undefined;
  var ordeal: Ordeal;
}

const world: World = {
  id: () => v7(),
  now: () => Date.now(),
  steady: () => performance.now() / 1000,
};
const AIRCRAFT = 'R-102';
let store: Store | null = null;
// Chromium says here when it threw a damaged database away and made a new one.
const plainOpen = indexedDB.open.bind(indexedDB);
indexedDB.open = (...words: Parameters<IDBFactory['open']>) => {
  const request = plainOpen(...words);
  request.addEventListener('upgradeneeded', (event) =>
    say({
      made: 'database',
      loss: Reflect.get(event, 'dataLoss'),
      why: Reflect.get(event, 'dataLossMessage'),
    }),
  );
  return request;
};
const say = (what: Record<string, unknown>) => globalThis.tell?.(JSON.stringify(what));

/** Sentences for the screen: what was lost, what came back. */
const sentences: string[] = [];
const opened = openStore({
  name: 'ordeal',
  world,
  onEmptied: (why) => void sentences.push(why),
  onBroughtBack(what) {
    sentences.push(what);
    say({ broughtBack: what });
  },
  // As in a browser that has no files.
  ...(location.search === '?one-copy' ? { files: async () => null } : {}),
}).then((s) => (store = s));

function drafts(walk: string) {
  return (what: Happening, t: number): Draft => ({
    v: 1,
    id: world.id(),
    walk,
    aircraft: AIRCRAFT,
    at: world.now(),
    t,
    what,
  });
}
const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

const SENTENCES = [
  'belts good, no cracks, one finger of slack',
  'left brake line chafed, replace before flight',
  'upper bearing dry, no play',
  'everything on the tail boom is good',
];

const BEGUN: Happening = {
  kind: 'walk-begun',
  aircraft: AIRCRAFT,
  catalogue: 'ordeal',
  edition: '0'.repeat(64),
  circumstances: [],
  pilot: null,
  instructor: null,
  hours: null,
  listening: 'scripted',
  squawks: [],
};

/** Begins a walk and gives the id of its beginning: what nobody began belongs to nobody elsewhere. */
async function begin(walk: string): Promise<string> {
  const [event] = await (await opened).append([drafts(walk)(BEGUN, 0)]);
  return event?.id ?? '';
}

/** Begins a walk and talks until somebody kills the browser. */
async function talk(seed: number): Promise<void> {
  const { append, keepSound } = await opened;
  const random = seeded(seed);
  const walk = world.id();
  const recording = `sound-${walk}`;
  const draft = drafts(walk);
  const [begun] = await append([draft(BEGUN, 0)]);
  say({ said: begun?.id, walk });
  const words = async () => {
    for (let n = 0; ; n += 1) {
      const text = `${SENTENCES[n % SENTENCES.length] ?? ''} ${n}`;
      const event = draft(
        {
          kind: 'heard',
          heard: {
            v: 1,
            id: world.id(),
            by: 'scripted',
            text,
            words: [],
            alternatives: [],
            from: n,
            to: n + 1,
            confidence: null,
            sound: { recording, from: n, to: n + 1 },
            speaker: null,
            sentAway: false,
          },
        },
        n,
      );
      await append([event]);
      // Only now is it acknowledged: on disk first (R10).
      say({ said: event.id, walk });
      await pause(random() * 20);
    }
  };
  const sound = async () => {
    for (let chunk = 0; ; chunk += 1) {
      say({ made: chunk, recording, at: Date.now() });
      await keepSound({
        walk,
        aircraft: AIRCRAFT,
        t: chunk,
        recording,
        chunk,
        place: { recording, from: chunk / 4, to: (chunk + 1) / 4 },
        mime: 'audio/wav',
        data: wavOf(chunk, 2000),
      });
      say({ kept: chunk, recording });
      await pause(250);
    }
  };
  await Promise.all([words(), sound()]);
}

/** What is there of a walk after a restart. */
async function look(walk: string): Promise<unknown> {
  const s = await opened;
  const off = await s.takeRecorder();
  off?.();
  const events = await s.walk(walk);
  const sound = await s.sound(`sound-${walk}`);
  const verdict = verifyEvents(events);
  const context = new OfflineAudioContext(1, 8000, 8000);
  const playable: number[] = [];
  for (const { chunk, data } of sound.chunks) {
    try {
      const buffer = await context.decodeAudioData(data.slice(0));
      if (buffer.length > 0) playable.push(chunk);
    } catch {
      // Not playable: it is missing in the list.
    }
  }
  return {
    recorderFree: off !== null,
    listed: (await s.walks()).some((w) => w.walk === walk),
    ids: events.map((e) => e.id),
    ok: verdict.ok,
    broken: verdict.broken,
    playable,
    durability: s.durability,
  };
}

/** Everything, at the end and now and then. */
async function lookAtAll() {
  const s = await opened;
  const [events, verdict] = await Promise.all([s.all(), s.verify()]);
  return {
    ids: events.map((e) => e.id),
    ok: verdict.ok && verdict.gaps.length === 0,
    broken: verdict.broken,
  };
}

/** Appends this many utterances one by one and gives their ids. */
async function sayOnly(walk: string, count: number): Promise<string[]> {
  const s = await opened;
  const draft = drafts(walk);
  const ids: string[] = [];
  for (let n = 0; n < count; n += 1) {
    const [event] = await s.append([draft({ kind: 'station-set', station: `s${n}` }, n)]);
    if (event !== undefined) ids.push(event.id);
  }
  return ids;
}

/** The same with long texts, which no packing makes short. */
async function sayLong(walk: string, count: number, length: number): Promise<string[]> {
  const s = await opened;
  const draft = drafts(walk);
  const random = seeded(count);
  const ids: string[] = [];
  for (let n = 0; n < count; n += 1) {
    let why = '';
    while (why.length < length) why += random().toString(36).slice(2);
    const [event] = await s.append([draft({ kind: 'sound-missing', why }, n)]);
    if (event !== undefined) ids.push(event.id);
  }
  return ids;
}

/** Keeps one chunk of about so many bytes. */
async function keep(walk: string, chunk: number, bytes: number) {
  const recording = `sound-${walk}`;
  // Noise: a tone would be packed by the database and take no room.
  const random = seeded(chunk + 1);
  const data = new Uint8Array(bytes).map(() => random() * 256).buffer;
  return (await opened).keepSound({
    walk,
    aircraft: AIRCRAFT,
    t: chunk,
    recording,
    chunk,
    place: { recording, from: chunk, to: chunk + 1 },
    mime: 'audio/wav',
    data,
  });
}

const ordeal = {
  begin,
  say: sayOnly,
  sayLong,
  keep,
  opened: () => opened.then(() => true),
  talk: (seed: number) => {
    void talk(seed).catch((error: unknown) => say({ failed: String(error) }));
  },
  act: (seed: number) => {
    void opened
      .then((s) => act(s, world, seed, (what) => say({ ...what })))
      .catch((error: unknown) => say({ failed: String(error) }));
  },
  lookAtActs: async (of: readonly string[]) => lookAtActs(await opened, of),
  look,
  lookAtAll,
  store: () => store,
  sentences: () => sentences,
  world,
};
type Ordeal = typeof ordeal;
globalThis.ordeal = ordeal;
