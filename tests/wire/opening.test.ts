import { expect, test } from 'vitest';
import { editionOf } from '#catalogue';
import { memoryStore, type Store } from '#store';
import { starters } from '../../src/cli/catalogues.ts';
import { linesOf } from '../../src/wire/lines.ts';
import { aircraftIn } from '../../src/wire/hangar.ts';
import { openShelf } from '../../src/wire/shelf.ts';
import { countingWorld, drafting } from '../store/help.ts';
import { houseFor, testWorld } from './house.ts';

/** Issue 14.8: the first screen does not read what it does not show, and folds are kept by version. */

const READS = ['walk', 'counted', 'judged', 'all', 'aircraftEvents', 'squawkEvents'] as const;

/** A store that writes down which of its long readings were asked for. */
function watched(store: Store): { store: Store; reads: string[] } {
  const reads: string[] = [];
  const changed: Partial<Record<(typeof READS)[number], unknown>> = {};
  for (const name of READS)
    changed[name] = (...words: string[]) => {
      reads.push([name, ...words].join(' '));
      return (store[name] as (...given: string[]) => unknown)(...words);
    };
  return { store: { ...store, ...changed } as Store, reads };
}

const catalogue = starters().find((c) => c.id === 'training-helicopter');

async function storeWith(walks: number): Promise<Store> {
  const world = countingWorld(3);
  const store = await memoryStore(world);
  if (catalogue === undefined) throw new Error('no catalogue');
  const edition = editionOf(catalogue);
  await store.keepCatalogue(edition, catalogue);
  for (let i = 0; i < walks; i += 1) {
    const { begun, said, finished } = drafting(world, `w${i}`);
    const first = begun();
    if (first.what.kind !== 'walk-begun') throw new Error('not begun');
    const what = { ...first.what, edition, catalogue: catalogue.id, hours: 100 + i };
    await store.append([{ ...first, what }, said('pedals are free'), finished()]);
  }
  return store;
}

test('14.8: the list reads no walk; what was counted is kept, and counted again only when the walk or the code changed', async () => {
  const { store, reads } = watched(await storeWith(25));
  const lines = linesOf(store);
  const fresh = await lines.list();
  expect(fresh.map((l) => [l.open, l.findings])).toEqual(fresh.map(() => [null, null]));
  expect(fresh[0]?.catalogueName).toBe(catalogue?.name);
  expect(reads).toEqual([]);

  const ids = fresh.map((l) => l.id);
  for (let i = 0; i < 3; i += 1) await lines.count(ids);
  expect(reads.filter((r) => r.startsWith('counted'))).toHaveLength(25);
  const counted = await lines.list();
  expect(counted.every((l) => l.open !== null && l.open > 0 && l.findings === 0)).toBe(true);

  // Opened again: nothing is read.
  reads.length = 0;
  const again = linesOf(store);
  await again.count(ids);
  expect(await again.list()).toEqual(counted);
  expect(reads).toEqual([]);

  // One more word in one walk: that one alone is counted again.
  const { said } = drafting(countingWorld(8), 'w7');
  await store.append([said('belts good')]);
  const changed = linesOf(store);
  expect((await changed.list()).filter((l) => l.open === null).map((l) => l.id)).toEqual(['w7']);
  await changed.count(ids);
  expect(reads).toEqual(['counted w7']);

  // Folded by other code: what was kept counts no more.
  const kept = await store.derived('counts');
  for (const [walk, value] of kept) {
    const { mark } = value as { mark: string };
    const other = { ...(value as object), mark: mark.replace(/^\S+/, 'another-version') };
    await store.keepDerived('counts', new Map([[walk, other]]));
  }
  expect((await linesOf(store).list()).every((l) => l.open === null)).toBe(true);
});

test('14.8: a walk whose catalogue is not here is not counted, and not asked for for ever', async () => {
  const world = countingWorld(3);
  const { store, reads } = watched(await memoryStore(world));
  const { begun } = drafting(world, 'w');
  await store.append([begun()]);
  const lines = linesOf(store);
  expect((await lines.count(['w']))[0]?.open).toBe(null);
  await lines.count(['w']);
  expect(reads).toEqual([]);
});

test('14.8: the aircraft of the first screen come from summaries, their squawks from what is kept until one is written', async () => {
  const { store, reads } = watched(await storeWith(4));
  const shelf = await openShelf(store);
  const first = await aircraftIn(store, shelf);
  expect(first).toEqual([
    {
      aircraft: 'R-102',
      catalogue: 'training-helicopter',
      hours: 103,
      openSquawks: [],
      squawkedChecks: [],
    },
  ]);
  expect(reads).toEqual(['squawkEvents']);
  reads.length = 0;
  expect(await aircraftIn(store, shelf)).toEqual(first);
  expect(reads).toEqual([]);
});

test('14.8: a squawk that is filed is on the first screen at once', async () => {
  const { house } = await houseFor(testWorld('2026-01-05T08:00:00Z'));
  await house.fileSquawk('N-7', 'left main tyre has a flat spot', null);
  const shown = () => house.choices.get().aircraft.find((a) => a.aircraft === 'N-7');
  await expect.poll(() => shown()?.openSquawks.length).toBe(1);
  expect(shown()?.catalogue).toBe(null);
});

test('16: a squawk that a mechanic has answered is called rectified on the first screen', async () => {
  const { house } = await houseFor(testWorld('2026-01-05T08:00:00Z'));
  const filed = await house.fileSquawk('N-7', 'left main tyre has a flat spot', null);
  if (!filed.ok || !('squawk' in filed.value)) throw new Error('not filed');
  await house.squawkStep(filed.value.squawk, {
    step: 'rectified',
    by: 'B. Ash',
    certificate: '17',
    certificateKind: 'mechanic',
    reference: 'W 1',
    date: '2026-01-06',
  });
  const shown = () => house.choices.get().aircraft.find((a) => a.aircraft === 'N-7');
  await expect.poll(() => shown()?.openSquawks[0]).toMatch(/, rectified$/);
});

test('14.8: of the walk that was left the first screen says how much is open', async () => {
  const world = testWorld('2026-01-05T08:00:00Z');
  const { house } = await houseFor(world);
  const begun = await house.begin({
    aircraft: 'R-102',
    catalogue: 'training-helicopter',
    circumstances: [],
    pilot: null,
    instructor: null,
    hours: null,
    ear: 'typed',
  });
  expect(begun.ok).toBe(true);
  house.close();
  await expect.poll(() => house.choices.get().unfinished?.open ?? 0).toBeGreaterThan(10);
});

test('14.8, 19: a step of a squawk that is given without its walk is on the first screen, kept or not', async () => {
  const { house, store: other } = await houseFor(testWorld('2026-01-05T08:00:00Z'));
  await house.fileSquawk('N-7', 'left main tyre has a flat spot', null);
  await expect.poll(async () => (await other.squawkEvents()).length).toBeGreaterThan(0);
  const given = await other.ownLog(null);
  const store = await memoryStore(countingWorld(5));
  const shelf = await openShelf(store);
  // Looked at before it came: what is kept of nothing must not stay.
  expect(await aircraftIn(store, shelf)).toEqual([]);
  await store.takeLoose(given.filter((text) => text.includes('"kind":"squawk"')));
  expect((await aircraftIn(store, shelf)).map((a) => [a.aircraft, a.openSquawks.length])).toEqual([
    ['N-7', 1],
  ]);
});
