import { expect, test } from 'vitest';
import { figures, freshEntries } from './squawk.ts';

/*
 * Fresh entries, judged before the program read one of them. Floors, so that a later
 * change that understands strangers worse fails here: part, condition and side are the
 * stations of the bench; the JASC chapter stands one entry of 200 below its .9.
 */
test('squawks of strangers: part, condition, side and JASC chapter of 200 fresh entries', () => {
  const fresh = figures(freshEntries(), 0.4);
  expect(fresh.entries).toBe(200);
  expect(fresh.part).toBeGreaterThanOrEqual(0.85);
  expect(fresh.condition).toBeGreaterThanOrEqual(0.9);
  expect(fresh.side).toBeGreaterThanOrEqual(0.98);
  expect(fresh.jascChapter).toBeGreaterThanOrEqual(0.89);
  expect(fresh.jascChapter).toBeGreaterThan(fresh.fuseJascChapter + 0.3);
});
