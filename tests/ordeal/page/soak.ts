import { v7 } from 'uuid';
import { z } from 'zod';
import { parseCatalogue } from '#catalogue';
import { createGrammar, parseDictionary } from '#grammar';
import { coverageOf, start, step } from '#reconcile';
import { createSession } from '#record';
import { CATALOGUES } from '#seeds';
import { openStore } from '#store';
import type { World } from '#shared/log';
import { seeded } from '../random.ts';

/**
 * Walk after walk at speed: the clock is wound on four seconds for each
 * utterance, everything else is what the app does: written, read, reconciled,
 * and a chunk of sound kept every two seconds.
 */
z.config({ jitless: true });

const SECONDS_PER_UTTERANCE = 4;
const SECONDS_PER_CHUNK = 2;
/** Two seconds of Opus at 32 kbit/s. */
const CHUNK_BYTES = 8000;
/** The screen shows the coverage at once; here every so many utterances. */
const SHOWN_EVERY = 10;
/** Sentences are taken in turn from so many samples of the grammar. */
const SENTENCES = 400;

let seconds = 0;
const began = Date.now();
const world: World = {
  id: () => v7(),
  now: () => began + seconds * 1000,
  steady: () => seconds,
};

async function open(seed: number, walkMinutes: number) {
  const seedCatalogue = CATALOGUES.find((c) => c.name === 'training-helicopter') ?? CATALOGUES[0];
  if (seedCatalogue === undefined) throw new Error('There is no starter catalogue.');
  const parsed = parseCatalogue(seedCatalogue.text, seedCatalogue.file);
  if (!parsed.ok) throw new Error('The starter catalogue does not read.');
  const { catalogue } = parsed;
  const grammar = createGrammar(catalogue, { pronunciations: parseDictionary(''), weights: null });
  // Without the second copy: to see what it costs.
  const one = location.search === '?one-copy' ? { files: async () => null } : {};
  const store = await openStore({ name: 'soak', world, ...one });
  const times: number[] = [];
  const timed = {
    walk: (id: string) => store.walk(id),
    async append(...drafts: Parameters<typeof store.append>) {
      const from = performance.now();
      const events = await store.append(...drafts);
      times.push(performance.now() - from);
      return events;
    },
  };
  async function newWalk() {
    let state = start(catalogue);
    const session = createSession({
      catalogue,
      reader: grammar,
      log: timed,
      world,
      onEvents: (events) => {
        for (const event of events) state = step(state, event).state;
      },
    });
    await session.begin({
      aircraft: 'R-102',
      edition: '0'.repeat(64),
      circumstances: [],
      pilot: null,
      instructor: null,
      hours: null,
      listening: 'scripted',
      squawks: [],
    });
    return { session, from: seconds, recording: world.id(), show: () => coverageOf(state) };
  }
  let walk = await newWalk();
  let walks = 1;
  const sentences = grammar.sample(seed, SENTENCES).map((s) => s.text);
  const random = seeded(seed);
  let said = 0;
  let chunk = 0;
  let chunks = 0;

  /** Talks on for so many simulated minutes; gives how long each append took, in milliseconds. */
  async function talk(minutes: number): Promise<readonly number[]> {
    times.length = 0;
    for (const end = seconds + minutes * 60; seconds < end;) {
      if (seconds - walk.from >= walkMinutes * 60) {
        await walk.session.finish();
        await store.seal(walk.session.walk);
        walk = await newWalk();
        walks += 1;
        chunk = 0;
      }
      const { session, recording } = walk;
      const from = seconds;
      seconds += SECONDS_PER_UTTERANCE;
      await session.hear({
        v: 1,
        id: world.id(),
        by: 'scripted',
        text: sentences[Math.floor(random() * sentences.length)] ?? 'belts good',
        words: [],
        alternatives: [],
        from,
        to: seconds,
        confidence: null,
        sound: { recording, from: from - walk.from, to: seconds - walk.from },
        speaker: null,
        sentAway: false,
      });
      said += 1;
      const question = session.question();
      if (question !== null) await session.unanswered(question.id);
      for (; chunk * SECONDS_PER_CHUNK < seconds - walk.from; chunk += 1) {
        const at = chunk * SECONDS_PER_CHUNK;
        const kept = await store.keepSound({
          walk: session.walk,
          aircraft: 'R-102',
          t: at,
          recording,
          chunk,
          place: { recording, from: at, to: at + SECONDS_PER_CHUNK },
          mime: 'audio/webm;codecs=opus',
          data: new Uint8Array(CHUNK_BYTES).fill(chunk % 256).buffer,
        });
        chunks += 1;
        if (!kept.kept) throw new Error(kept.why);
      }
      if (said % SHOWN_EVERY === 0) walk.show();
    }
    return [...times];
  }

  return {
    talk,
    async end() {
      const verdict = await store.verify();
      return { said, chunks, walks, events: verdict.events, ok: verdict.ok };
    },
  };
}

const ordeal = {
  open: (seed: number, walkMinutes: number) =>
    open(seed, walkMinutes).then((run) => void (soak = run)),
};
let soak: Awaited<ReturnType<typeof open>> | null = null;
Object.assign(globalThis, {
  ordeal,
  talk: (minutes: number) => soak?.talk(minutes),
  end: () => soak?.end(),
});
