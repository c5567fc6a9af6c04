import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Event } from '#shared/event';
import { memoryStore, mergeEvents, verifyEvents } from '#store';
import { hashOf } from '../../src/store/chain.ts';
import { countingWorld, drafting } from './help.ts';

const SEED = 20260105;

/** The logs of three devices, and two forgeries of one event. */
let pool: readonly unknown[] = [];
beforeAll(async () => {
  const events: Event[] = [];
  for (const seed of [1, 2, 3]) {
    const world = countingWorld(seed);
    const store = await memoryStore(world);
    const { begun, said, finished } = drafting(world, world.id());
    events.push(...(await store.append([begun(), said('a'), said('b'), finished()])));
  }
  const twins = [1, 2].map((at) => {
    const raw = { ...events[5], at };
    return { ...raw, hash: hashOf(raw) };
  });
  pool = [...events, ...twins];
});

describe(`the union of logs (seed ${SEED})`, () => {
  const some = () => fc.array(fc.nat(13), { maxLength: 20 });
  const pick = (of: readonly number[]) => of.map((i) => pool[i]);

  test('is commutative', () => {
    fc.assert(
      fc.property(some(), some(), (a, b) => {
        expect(mergeEvents(pick(a), pick(b))).toEqual(mergeEvents(pick(b), pick(a)));
      }),
      { seed: SEED, numRuns: 300 },
    );
  });

  test('is associative', () => {
    fc.assert(
      fc.property(some(), some(), some(), (a, b, c) => {
        const left = mergeEvents(mergeEvents(pick(a), pick(b)), pick(c));
        const right = mergeEvents(pick(a), mergeEvents(pick(b), pick(c)));
        expect(left).toEqual(right);
      }),
      { seed: SEED, numRuns: 300 },
    );
  });

  test('is idempotent, and does not care about the order in which events arrive', () => {
    fc.assert(
      fc.property(some(), fc.array(fc.nat()), (a, keys) => {
        const once = mergeEvents(pick(a), []);
        expect(mergeEvents(once, once)).toEqual(once);
        const shuffled = a
          .map((i, n) => ({ i, key: keys[n] ?? 0 }))
          .sort((x, y) => x.key - y.key)
          .map(({ i }) => i);
        expect(mergeEvents(pick(shuffled), [])).toEqual(once);
      }),
      { seed: SEED, numRuns: 300 },
    );
  });

  test('loses no event', () => {
    fc.assert(
      fc.property(some(), some(), (a, b) => {
        const ids = (list: readonly unknown[]) =>
          new Set(list.map((e) => (e as { id: string }).id));
        expect(ids(mergeEvents(pick(a), pick(b)))).toEqual(
          new Set([...ids(pick(a)), ...ids(pick(b))]),
        );
      }),
      { seed: SEED, numRuns: 300 },
    );
  });
});

test('two stores that merge each other hold the same log', async () => {
  const stores = await Promise.all(
    [1, 2].map(async (seed) => {
      const world = countingWorld(seed);
      const store = await memoryStore(world);
      const { begun, said } = drafting(world, world.id());
      await store.append([begun(), said(`from ${seed}`)]);
      return store;
    }),
  );
  const [a, b] = stores;
  if (a === undefined || b === undefined) throw new Error('no stores');
  const [ofA, ofB] = [await a.all(), await b.all()];
  expect(await a.merge(ofB)).toMatchObject({ added: 2, refused: [] });
  expect(await b.merge(ofA)).toMatchObject({ added: 2, refused: [] });
  expect(await a.all()).toEqual(await b.all());
  expect(verifyEvents(await a.all(), { whole: true }).ok).toBe(true);
});
