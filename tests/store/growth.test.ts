import 'fake-indexeddb/auto';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Event } from '#shared/event';
import { memoryStore, openStore, type Store } from '#store';
import { canonical } from '../../src/store/canonical.ts';
import { DIGEST_VERSION, digestsOf, withRow } from '../../src/store/digest.ts';
import { rowOf } from '../../src/store/store.ts';
import { countingWorld, drafting } from './help.ts';

/** Issue 14.8: opening does not grow with the log. */

/** Some walks, some of them finished and signed, as another device made them. */
async function manyWalks(count: number, seed = 5): Promise<Store> {
  const world = countingWorld(seed);
  const store = await memoryStore(world, { device: `device-${seed}` });
  for (let i = 0; i < count; i += 1) {
    const { begun, said, finished, draft } = drafting(world, world.id());
    await store.append([begun({ pilot: `Pilot ${i}` }), said('belts good'), said('no cracks')]);
    if (i % 2 === 0) await store.append([finished()]);
    if (i % 4 === 0) await store.append([draft({ kind: 'signed', name: 'P.', certificate: null })]);
  }
  return store;
}

function rowsIn(events: readonly Event[]) {
  return events.map((event) => rowOf({ event, text: canonical(event) }));
}

function opened(name: string, world = countingWorld(40)): Promise<Store> {
  return openStore({ name, world, files: () => Promise.resolve(null) });
}

describe('14.8: the list of walks is made from digests', () => {
  test('row by row they are what they are at once, whatever the walks (seed 20260108)', async () => {
    const rows = rowsIn(await (await manyWalks(8)).all());
    await fc.assert(
      fc.asyncProperty(fc.shuffledSubarray([...rows.keys()]), async (order) => {
        const some = order.map((i) => rows[i]).filter((row) => row !== undefined);
        const all = digestsOf(some);
        for (const [walk, digest] of all) {
          const mine = some.filter((row) => row.walk === walk);
          expect(digest.events).toBe(mine.length);
          expect(digest.head).toBe(mine.at(-1)?.hash);
          const event = (kind: string) => mine.find((row) => row.kind === kind);
          expect(digest.finished).toBe(event('finished') !== undefined);
          expect(digest.sealed).toBe(event('sealed') !== undefined);
          expect(digest.begun === null).toBe(event('walk-begun') === undefined);
          const last = JSON.parse(mine.at(-1)?.text ?? '') as Event;
          expect(digest.last).toBe(last.at);
        }
      }),
      { seed: 20_260_108, numRuns: 100 },
    );
  });

  test('when an event was written is read past any name of an aircraft (seed 20260108)', () => {
    fc.assert(
      fc.property(
        fc.option(fc.string({ unit: 'binary' })),
        fc.double({ noNaN: true, noDefaultInfinity: true, min: 0 }),
        (aircraft, at) => {
          const text = canonical({ aircraft: aircraft?.toWellFormed() ?? null, at, what: {} });
          const row = { id: 'i', device: 'd', walk: 'w', aircraft, kind: 'x', prev: null };
          expect(withRow(undefined, { ...row, hash: 'h', text })?.last).toBe(at);
        },
      ),
      { seed: 20_260_108, numRuns: 1000 },
    );
  });

  test('a database says the same as memory, also when it is opened again and goes on', async () => {
    const walks = async (store: Store) =>
      (await store.walks()).map(({ own, ...summary }) => ({ ...summary, own: typeof own }));
    const from = await manyWalks(6);
    const memory = await memoryStore(countingWorld(41));
    const base = await opened('growth');
    const events = await from.all();
    await memory.merge(events);
    await base.merge(events);
    expect(await walks(base)).toEqual(await walks(memory));
    base.close();
    const again = await opened('growth');
    expect(await walks(again)).toEqual(await walks(memory));
    const more = await (await manyWalks(3, 9)).all();
    await again.merge(more);
    await memory.merge(more);
    expect(await walks(again)).toEqual(await walks(memory));
    again.close();
  });

  test('two pages of one database see what the other wrote', async () => {
    const one = await opened('two-pages');
    const two = await opened('two-pages', countingWorld(50));
    const { begun, said } = drafting(countingWorld(51), 'w-one');
    await one.append([begun(), said('belts good')]);
    await one.walks();
    const other = drafting(countingWorld(52), 'w-two');
    await two.append([other.begun()]);
    await new Promise((resolve) => setTimeout(resolve, 50));
    for (const store of [one, two])
      expect((await store.walks()).map((w) => [w.walk, w.events]).sort()).toEqual([
        ['w-one', 2],
        ['w-two', 1],
      ]);
    one.close();
    two.close();
  });

  test('digests of another version are made anew', async () => {
    const store = await opened('old-digests');
    await store.merge(await (await manyWalks(4)).all());
    const right = await store.walks();
    store.close();
    await inBase('old-digests', (base) => {
      const tx = base.transaction(['derived', 'digests'], 'readwrite');
      tx.objectStore('derived').put({ version: DIGEST_VERSION - 1, key: 3 }, ['digests', 'up to']);
      tx.objectStore('digests').put('{"walk":"never","events":1}', 'never');
      return tx;
    });
    const again = await opened('old-digests');
    expect(await again.walks()).toEqual(right);
    again.close();
  });

  test('a record of the format before is opened, keeps every event and has its list', async () => {
    const rows = rowsIn(await (await manyWalks(3)).all());
    await new Promise<void>((resolve) => {
      const request = indexedDB.open('format-1', 1);
      request.onupgradeneeded = () => {
        const events = request.result.createObjectStore('events', { autoIncrement: true });
        events.createIndex('id', 'id', { unique: true });
        for (const index of ['walk', 'aircraft', 'kind', 'device'])
          events.createIndex(index, index);
        for (const name of ['sounds', 'sizes', 'catalogues', 'notes', 'heads'])
          request.result.createObjectStore(name);
        for (const row of rows) events.add(row);
      };
      request.onsuccess = () => {
        request.result.close();
        resolve();
      };
    });
    const told: string[] = [];
    const store = await openStore({
      name: 'format-1',
      world: countingWorld(40),
      files: () => Promise.resolve(null),
      onEmptied: (why) => told.push(why),
    });
    expect(await store.all()).toHaveLength(rows.length);
    expect(await store.walks()).toHaveLength(3);
    expect((await store.verify()).ok).toBe(true);
    expect(told).toEqual([]);
    store.close();
  });

  test('what is derived is kept by kind and key, and is in no backup', async () => {
    const store = await opened('derived');
    await store.keepDerived('counts', new Map([['w', { open: 3 }]]));
    await store.keepDerived('counts', new Map([['x', { open: 4 }]]));
    await store.keepDerived('other', new Map([['w', 1]]));
    store.close();
    const again = await opened('derived');
    expect(await again.derived('counts')).toEqual(
      new Map([
        ['w', { open: 3 }],
        ['x', { open: 4 }],
      ]),
    );
    const { file } = await again.backup();
    expect(await file.text()).not.toContain('"open":3');
    again.close();
  });
});

describe('14.8: restoring', () => {
  const WALKS = 60;

  test('tells how far it is, upwards to the end', async () => {
    const { file } = await (await manyWalks(WALKS)).backup();
    const steps: { text: string; part: number }[] = [];
    const store = await memoryStore(countingWorld(60));
    const restored = await store.restore(file, { onProgress: (step) => steps.push(step) });
    expect(restored.ok).toBe(true);
    const parts = steps.map((s) => s.part);
    expect(parts).toEqual([...parts].sort((a, b) => a - b));
    expect(parts.every((p) => p >= 0 && p <= 1)).toBe(true);
  });

  test('stopped in the middle, every walk is here whole or not at all, and the same file goes on (R4)', async () => {
    const from = await manyWalks(WALKS);
    const { file } = await from.backup();
    const store = await memoryStore(countingWorld(60));
    const events = (await from.all()).length;
    let asked = 0;
    const signal = {
      get aborted() {
        // Asked after each event and after each walk: in the middle of the walks.
        asked += 1;
        return asked > 2 * events + WALKS / 2;
      },
    } as AbortSignal;
    const first = await store.restore(file, { signal });
    expect(first.ok).toBe(false);
    expect(first.text.join(' ')).toMatch(
      /Stopped before the end\. \d+ walks? (is|are) left\. What was restored stays; choose the same file again to go on\./,
    );
    const here = await store.walks();
    expect(here.length).toBeGreaterThan(0);
    expect(here.length).toBeLessThan(WALKS);
    const whole = new Map((await from.walks()).map((w) => [w.walk, w.events]));
    for (const { walk, events } of here) expect(events).toBe(whole.get(walk));
    const second = await store.restore(file);
    expect(second.ok).toBe(true);
    expect(await store.walks()).toHaveLength(WALKS);
    expect((await store.verify()).ok).toBe(true);
  });

  test('stopped before anything was looked at, nothing is taken', async () => {
    const { file } = await (await manyWalks(5)).backup();
    const store = await memoryStore(countingWorld(60));
    const ending = new AbortController();
    ending.abort();
    const restored = await store.restore(file, { signal: ending.signal });
    expect(restored.text).toEqual(['Stopped.', 'Nothing was restored.']);
    expect(await store.all()).toEqual([]);
  });
});

/** What no code of ours does: writes into a database by hand. */
function inBase(name: string, act: (base: IDBDatabase) => IDBTransaction): Promise<void> {
  return new Promise((resolve) => {
    const request = indexedDB.open(name);
    request.onsuccess = () => {
      const tx = act(request.result);
      tx.oncomplete = () => {
        request.result.close();
        resolve();
      };
    };
  });
}
