import { fold } from '#reconcile';
import { openStore } from '#store';
import type { World } from '#shared/log';
import { aircraft, draftsOf, happenings } from '../walks.ts';

const WALK = 'an-hour';
/** An utterance and its statement every three seconds, for an hour. */
const SPOKEN = 2_400;
/** Sound is kept in chunks of two seconds, each with its event. */
const CHUNK_SECONDS = 2;
const CHECKS = 150;

const catalogue = aircraft(CHECKS);
let ids = 0;
const world: World = {
  id: () => `01900000-0000-7000-9000-${String((ids += 1)).padStart(12, '0')}`,
  now: () => Date.now(),
  steady: () => performance.now() / 1000,
};

/** Writes the walk, in the pieces in which it would come. Gives the number of its events. */
async function plant(): Promise<number> {
  const spoken = happenings(catalogue, SPOKEN, 20261125, 3_600);
  const sound = Array.from({ length: 3_600 / CHUNK_SECONDS }, (_, i) => ({
    t: i * CHUNK_SECONDS,
    what: {
      kind: 'sound-kept' as const,
      recording: 'r',
      chunk: i,
      place: { recording: 'r', from: i * CHUNK_SECONDS, to: (i + 1) * CHUNK_SECONDS },
      mime: 'audio/webm',
      hash: '0'.repeat(64),
    },
  }));
  const all = [...spoken.slice(0, 1), ...[...spoken.slice(1), ...sound].sort((a, b) => a.t - b.t)];
  const drafts = draftsOf(all, WALK);
  const store = await openStore({ name: 'bench', world });
  for (let i = 0; i < drafts.length; i += 100) await store.append(drafts.slice(i, i + 100));
  return drafts.length;
}

/** From the closed database to the sheet, milliseconds. */
async function open(): Promise<number> {
  const from = performance.now();
  const store = await openStore({ name: 'bench', world });
  const coverage = fold(catalogue, await store.walk(WALK));
  const taken = performance.now() - from;
  if (coverage.checks.every((c) => c.standing === 'unspoken'))
    throw new Error('The walk is empty.');
  return taken;
}

Object.assign(window, { plant, open_: open });
