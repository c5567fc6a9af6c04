import { readFileSync } from 'node:fs';
import { transcriptHeard } from '#capture';
import { editionOf } from '#catalogue';
import { createGrammar, parseDictionary } from '#grammar';
import { testWeights } from '../../weights.ts';
import { memoryStore } from '#store';
import { walkThrough } from '#wire';
import type { Catalogue } from '#shared/catalogue';
import type { Draft, Event } from '#shared/event';
import type { World } from '#shared/log';
import { countingWorld } from '../../store/help.ts';
import { starters } from '../../../src/cli/catalogues.ts';

/** Events of one walk, its signature and seal among them: 21,000 in 500 walks, as the issue has it. */
export const EVENTS_A_WALK = 42;
/** Aircraft of a school. */
const AIRCRAFT = 12;
/** Every so many walks write up a squawk; all but the last few are closed again. */
const SQUAWK_EVERY = 10;
const OPEN_SQUAWKS = 10;
const DAY = 24 * 3600 * 1000;
const UUID = /[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}/g;

/** One walk as it really comes out of grammar, session and reconciler. */
async function pattern(): Promise<{ catalogue: Catalogue; events: readonly Event[] }> {
  const catalogue = starters().find((c) => c.id === 'training-helicopter');
  if (catalogue === undefined) throw new Error('The helicopter is not among the starters.');
  const read = transcriptHeard(
    readFileSync('seeds/walks/three-findings.txt'),
    'three-findings.txt',
  );
  if (!read.ok) throw new Error(read.error);
  const world = countingWorld(1);
  const { events } = await walkThrough({
    catalogue,
    reader: createGrammar(catalogue, {
      weights: testWeights(),
      pronunciations: parseDictionary(
        readFileSync('node_modules/soundswallower/model/en-us/dict.txt', 'utf8'),
      ),
    }),
    log: await memoryStore(world),
    world,
    heard: read.heard,
    aircraft: 'X',
    circumstances: [],
  });
  return { catalogue, events };
}

/** As many events as a walk has here, ended as every walk is. */
function cut(events: readonly Event[]): readonly Event[] {
  const finished = events.filter((e) => e.what.kind === 'finished');
  // Finished, decided, signed and sealed.
  return [...events.slice(0, EVENTS_A_WALK - 4), ...finished];
}

/** The same walk with ids of its own, on another day. */
function again(events: readonly Event[], world: World, n: number): readonly Draft[] {
  const ids = new Map<string, string>();
  const aircraft = `N-${100 + (n % AIRCRAFT)}`;
  const begun = world.now();
  const first = events[0]?.at ?? 0;
  const drafts = events.map((event): Draft => {
    const text = JSON.stringify(event).replace(UUID, (id) => {
      const own = ids.get(id) ?? world.id();
      ids.set(id, own);
      return own;
    });
    const { v, id, walk, t, what } = JSON.parse(text) as Event;
    const at = begun + (event.at - first);
    return {
      v,
      id,
      walk,
      aircraft,
      at,
      t,
      what: what.kind === 'walk-begun' ? { ...what, aircraft, hours: 1000 + n } : what,
    };
  });
  const last = drafts.at(-1);
  const more = (what: Draft['what']): Draft => ({
    v: 1,
    id: world.id(),
    walk: last?.walk ?? null,
    aircraft,
    at: last?.at ?? begun,
    t: null,
    what,
  });
  return [
    ...drafts,
    more({ kind: 'decided', decision: 'fly', by: 'P. Heron', authority: null, note: null }),
    more({ kind: 'signed', name: 'P. Heron', certificate: null }),
  ];
}

function squawk(world: World, n: number, closed: boolean): readonly Draft[] {
  const aircraft = `N-${100 + (n % AIRCRAFT)}`;
  const id = world.id();
  const step = (what: Extract<Draft['what'], { kind: 'squawk' }>['step']): Draft => ({
    v: 1,
    id: world.id(),
    walk: null,
    aircraft,
    at: world.now(),
    t: null,
    what: { kind: 'squawk', squawk: id, step: what },
  });
  const opened = step({
    step: 'opened',
    aircraft,
    fault: {
      words: `left tyre flat spot ${n}`,
      check: null,
      part: 'tyre',
      side: 'left',
      position: null,
      conditions: [],
      value: null,
      severity: 'watch',
    },
    statement: null,
    heard: null,
    sound: null,
    reporter: 'P. Heron',
    found: 'pre-flight walk',
    hours: 1000 + n,
    legacy: false,
  });
  return closed ? [opened, step({ step: 'closed', by: 'A. Wren', note: null })] : [opened];
}

/** A backup of another device with so many walks, signed and sealed, without sound. */
export async function backupOf(walks: number): Promise<{ file: Blob; events: number }> {
  const { catalogue, events } = await pattern();
  const walk = cut(events);
  const counting = countingWorld(7);
  let day = 0;
  const world: World = { ...counting, now: () => counting.now() + day * DAY };
  const store = await memoryStore(world, { device: 'another-device' });
  await store.keepCatalogue(editionOf(catalogue), catalogue);
  for (day = 0; day < walks; day += 1) {
    await store.append(again(walk, world, day));
    if (day % SQUAWK_EVERY === 0)
      await store.append(squawk(world, day, day < walks - OPEN_SQUAWKS * SQUAWK_EVERY));
  }
  const { file, events: count } = await store.backup({ sound: false });
  return { file, events: count };
}
