import { describe, expect, test } from 'vitest';
import { fold, studentOf } from '#reconcile';
import * as n from './notation.ts';

const { said, good } = n;

/** A finished walk on which these lines were said. */
const walk = (...lines: n.Line[]) =>
  fold(n.AIRCRAFT, n.walk(n.begun(), ...lines, { kind: 'finished', open: [], how: 'said' }));
const taught = said('fan', good(), n.force('teaching'));

describe('what a student leaves out again and again', () => {
  test('once is a slip, twice is a habit; the most often first', () => {
    const { again } = studentOf([walk(said('fan', good())), walk(), walk()], n.AIRCRAFT);
    expect(again[0]).toMatchObject({ open: 3, of: 3 });
    expect(again.find((h) => h.check === 'fan')).toMatchObject({ open: 2, of: 3, reported: 1 });
    expect(studentOf([walk()], n.AIRCRAFT).again).toEqual([]);
  });

  test('R2: what was explained and never reported is the student’s to do', () => {
    const found = studentOf([walk(taught), walk(taught), walk()], n.AIRCRAFT);
    expect(found.habits.find((h) => h.check === 'fan')).toEqual({
      check: 'fan',
      of: 3,
      open: 3,
      explained: 2,
      reported: 0,
    });
    expect(found.points.join(' ')).toMatch(
      /Report .*fan.* yourself: explained on 2 walks, reported on none, left open on 3 of 3 walks\./i,
    );
  });

  test('three points at most, one sentence each; none from one walk', () => {
    const { points } = studentOf([walk(), walk()], n.AIRCRAFT);
    expect(points).toHaveLength(3);
    for (const point of points) expect(point).toMatch(/^[^.]+\.$/);
    expect(studentOf([walk()], n.AIRCRAFT).points).toEqual([]);
  });
});
