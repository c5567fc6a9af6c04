import { expect, test } from 'vitest';
import { SchoolSaidNo, syncRound, type InSchool, type Progress } from '#sync';
import { memoryStore } from '#store';
import { forger, signedWalk } from '../store/attack.ts';
import { countingWorld } from '../store/help.ts';
import { syncStoreOf } from './stage.ts';

/** A school that gives these events and keeps nothing. */
function schoolWith(events: readonly unknown[]): InSchool {
  const school: Pick<InSchool, 'hello' | 'feed' | 'wanted' | 'events' | 'edition'> = {
    hello: async () =>
      ({ head: null, editions: [], lacks: [] }) as unknown as Awaited<
        ReturnType<InSchool['hello']>
      >,
    feed: async () => ({
      events: events.map((e) => ({ text: JSON.stringify(e), loose: false })),
      cursor: 'end',
      more: false,
    }),
    wanted: async () => ({ wanted: [], cursor: null }),
    edition: () => Promise.reject(new SchoolSaidNo(404, 'There is no such edition.')),
    events: async () => ({ head: null, added: 0, known: 0, refused: [], aside: [] }),
  };
  return school as InSchool;
}

test('14 a known device that seals with a new key is announced, also when its walk comes by way of a school', async () => {
  const mallory = await forger();
  const { store, walk } = await signedWalk();
  const honest = await store.walk(walk);
  const phone = await memoryStore(countingWorld(9), { device: 'phone' });
  let progress: Progress = { cursor: null, told: [] };
  const round = async (events: readonly unknown[]) => {
    progress = await syncRound(syncStoreOf(phone), schoolWith(events), progress, {
      busy: async () => false,
      onHello: async () => undefined,
      onPictures: async () => undefined,
      onProgress: async (p) => void (progress = p),
    });
  };
  await round(honest);
  expect(progress.told).toEqual([]);
  await round(await mallory.rewrite(honest, (e) => e, { declare: true }));
  expect(progress.told.map((t) => t.why)).toEqual([
    expect.stringMatching(/was known here by the key “.*” and now seals with another, “/),
  ]);
});
