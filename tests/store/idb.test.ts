import 'fake-indexeddb/auto';
import { expect, test } from 'vitest';
import { openStore, StoreTrouble } from '#store';
import { countingWorld, drafting } from './help.ts';

/** What can go wrong between the record and the browser's database. */

function makeBase(name: string, version?: number): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(name, version);
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(new Error('not made'));
  });
}

test('a record of a newer Talkround is left alone, in words', async () => {
  (await makeBase('newer', 99)).close();
  const opening = openStore({ name: 'newer', world: countingWorld() });
  await expect(opening).rejects.toThrow(StoreTrouble);
  await expect(opening).rejects.toThrow(/newer Talkround/);
});

test('a newer Talkround in another tab gets the database, and this tab is told', async () => {
  const told: string[] = [];
  const store = await openStore({
    name: 'shared',
    world: countingWorld(),
    onLost: (why) => told.push(why),
  });
  const newer = await makeBase('shared', 99);
  expect(told).toEqual([expect.stringContaining('newer Talkround was opened in another tab')]);
  const { begun } = drafting(countingWorld(), 'w');
  await expect(store.append([begun()])).rejects.toThrow(/record is closed/);
  newer.close();
});

test('a store that was closed says so', async () => {
  const store = await openStore({ name: 'closed', world: countingWorld() });
  store.close();
  const { begun } = drafting(countingWorld(), 'w');
  await expect(store.append([begun()])).rejects.toThrow(/record is closed/);
  await expect(store.all()).rejects.toThrow(/record is closed/);
});

test('the same database opened again is the same device with the same log and key', async () => {
  const world = countingWorld();
  const first = await openStore({ name: 'again', world });
  const { begun, said } = drafting(world, 'w');
  await first.append([begun(), said('belts good')]);
  const key = await first.publicKey();
  const before = await first.all();
  first.close();
  const second = await openStore({ name: 'again', world });
  expect(second.device).toBe(first.device);
  expect(await second.all()).toEqual(before);
  expect(await second.publicKey()).toBe(key);
  await second.append([said('no cracks')]);
  expect(await second.verify()).toMatchObject({ ok: true, gaps: [] });
  second.close();
});

test('an event that the disk gives back in other bytes is reported, not fatal', async () => {
  const world = countingWorld();
  const store = await openStore({ name: 'rotten', world });
  const { begun, said } = drafting(world, 'w');
  const [, second] = await store.append([begun(), said('belts good'), said('no cracks')]);
  // What no code of ours does: a row is written over.
  const base = await makeBase('rotten');
  await new Promise<void>((resolve) => {
    const tx = base.transaction('events', 'readwrite');
    const rows = tx.objectStore('events');
    const get = rows.get(2);
    get.onsuccess = () => rows.put({ ...(get.result as object), text: '{"half' }, 2);
    tx.oncomplete = () => resolve();
  });
  base.close();
  expect(await store.walk('w')).toHaveLength(2);
  expect(await store.unreadable()).toMatchObject([{ id: second?.id, walk: 'w' }]);
  expect((await store.verify()).ok).toBe(false);
  const backup = await store.backup();
  expect(backup.notes.join(' ')).toContain('does not hold');
  store.close();
});

test('a database that came back empty is said to be gone, and a first one is not (R10)', async () => {
  const kept = new Map<string, string>();
  const marks = {
    getItem: (key: string) => kept.get(key) ?? null,
    setItem: (key: string, value: string) => void kept.set(key, value),
  };
  const told: string[] = [];
  const open = () =>
    openStore({
      name: 'emptied',
      world: countingWorld(),
      marks,
      onEmptied: (why) => told.push(why),
    });
  (await open()).close();
  (await open()).close();
  expect(told).toEqual([]);
  await new Promise<void>((resolve) => {
    indexedDB.deleteDatabase('emptied').onsuccess = () => resolve();
  });
  (await open()).close();
  expect(told).toEqual([expect.stringContaining('is gone')]);
  (await open()).close();
  expect(told).toHaveLength(1);
});
