import fc from 'fast-check';
import { expect, test } from 'vitest';
import { EMPTY, get, hashOf, put, type PMap } from '../../src/reconcile/map.ts';

const SEED = 20261125;

/* Pairs of words with the same 32-bit FNV-1a hash, from memory; held below. */
const TWINS = ['costarring', 'liquid', 'declinate', 'macallums', 'altarage', 'zinke'];

test(`holds what a Map holds, and leaves older maps as they were (seed ${SEED})`, () => {
  const key = fc.oneof(fc.string(), fc.constantFrom(...TWINS));
  fc.assert(
    fc.property(fc.array(fc.tuple(key, fc.integer()), { maxLength: 200 }), (pairs) => {
      const plain = new Map<string, number>();
      let map: PMap<number> = EMPTY;
      const older: { map: PMap<number>; plain: Map<string, number> }[] = [];
      for (const [k, v] of pairs) {
        older.push({ map, plain: new Map(plain) });
        plain.set(k, v);
        map = put(map, k, v);
      }
      for (const then of [...older, { map, plain }]) {
        expect(then.map.size).toBe(then.plain.size);
        for (const [k] of pairs) expect(get(then.map, k)).toBe(then.plain.get(k));
      }
    }),
    { seed: SEED, numRuns: 50 },
  );
});

test('keys of the same hash do not hide each other', () => {
  expect(hashOf('costarring')).toBe(hashOf('liquid'));
  expect(hashOf('declinate')).toBe(hashOf('macallums'));
  const map = TWINS.reduce<PMap<number>>((m, k, i) => put(m, k, i), EMPTY);
  const changed = put(map, 'liquid', 99);
  expect(TWINS.map((k) => get(map, k))).toEqual([0, 1, 2, 3, 4, 5]);
  expect(TWINS.map((k) => get(changed, k))).toEqual([0, 99, 2, 3, 4, 5]);
  expect(get(map, 'neither')).toBeUndefined();
  expect(changed.size).toBe(6);
});

test('an owner writes to its own branches and to nobody else’s', () => {
  const owner = {};
  const base = put(EMPTY as PMap<number>, 'a', 1);
  const mine = put(put(base, 'b', 2, owner), 'c', 3, owner);
  expect([get(base, 'b'), get(base, 'c')]).toEqual([undefined, undefined]);
  const after = put(mine, 'd', 4);
  expect(get(mine, 'd')).toBeUndefined();
  expect(['a', 'b', 'c', 'd'].map((k) => get(after, k))).toEqual([1, 2, 3, 4]);
});
