import fc from 'fast-check';
import { expect, test } from 'vitest';
import { calloutsOf } from '../../src/screens/plan/callouts.ts';
import { apart, lineThrough, pieces, pointAt, runs, stretch } from '../../src/screens/plan/line.ts';
import { catalogueOf } from './cases.ts';

const place = fc.record({
  x: fc.integer({ min: 0, max: 100 }),
  y: fc.integer({ min: 0, max: 100 }),
});

test('the line passes every station and ends where it began (seed 7)', () => {
  fc.assert(
    fc.property(
      fc.uniqueArray(place, { minLength: 2, maxLength: 15, selector: (p) => `${p.x},${p.y}` }),
      (places) => {
        const line = lineThrough(places);
        expect(line.stops).toHaveLength(places.length);
        const first = pointAt(line, 0);
        const last = line.points.at(-1);
        expect(Math.hypot(first.x - (last?.x ?? 0), first.y - (last?.y ?? 0))).toBeLessThan(1e-6);
        for (const p of line.points) {
          expect(Number.isFinite(p.x) && Number.isFinite(p.y)).toBe(true);
        }
      },
    ),
    { seed: 7, numRuns: 200 },
  );
});

test('stations at the very same place still get their own pieces', () => {
  const line = lineThrough([
    { x: 50, y: 50 },
    { x: 50, y: 50 },
    { x: 50, y: 50 },
  ]);
  expect(line.length).toBeGreaterThan(6);
});

test('a walk of one station is a ring, of none is nothing', () => {
  expect(lineThrough([{ x: 50, y: 50 }]).length).toBeGreaterThan(40);
  expect(stretch(lineThrough([]), 0, 1)).toBe('');
});

test('every check has its own piece, and no two pieces overlap (seed 11)', () => {
  fc.assert(
    fc.property(
      fc.array(fc.tuple(place, fc.integer({ min: 1, max: 25 })), { minLength: 1, maxLength: 12 }),
      (stations) => {
        const line = lineThrough(stations.map(([p]) => p));
        const checks = stations.map(([, n], i) => ({
          checks: Array.from({ length: n }, (_, k) => `${i}-${k}`),
        }));
        const parts = pieces(line, checks);
        expect(parts).toHaveLength(checks.reduce((n, s) => n + s.checks.length, 0));
        const covered = parts.reduce((sum, p) => sum + (p.to - p.from), 0);
        expect(covered).toBeLessThanOrEqual(line.length + 1e-6);
        for (const p of parts) expect(p.to).toBeGreaterThan(p.from);
      },
    ),
    { seed: 11, numRuns: 200 },
  );
});

test('one check that differs interrupts the line exactly there', () => {
  const line = lineThrough([
    { x: 20, y: 20 },
    { x: 80, y: 20 },
    { x: 50, y: 80 },
  ]);
  const checks = [{ checks: ['a', 'b', 'c'] }, { checks: ['d', 'e', 'f'] }, { checks: ['g'] }];
  const parts = pieces(line, checks);
  const found = runs(parts, (c) => (c === 'e' ? 'skipped' : 'spoken'));
  expect(found.filter((r) => r.look === 'skipped').map((r) => r.checks)).toEqual([['e']]);
  expect(found.flatMap((r) => r.checks)).toEqual(['a', 'b', 'c', 'd', 'e', 'f', 'g']);
});

test('names in the margin never touch, however close their marks are (seed 3)', () => {
  fc.assert(
    fc.property(fc.array(place, { minLength: 1, maxLength: 16 }), (marks) => {
      const placed = calloutsOf(
        marks.map((mark, i) => ({ id: String(i), text: 'name', mark })),
        { left: 0, right: 100 },
      );
      for (const side of ['left', 'right'] as const) {
        const ys = placed.filter((c) => c.side === side).map((c) => c.at.y);
        ys.slice(1).forEach((y, i) => expect(y - (ys[i] ?? 0)).toBeGreaterThan(5));
        for (const y of ys) expect(y).toBeLessThanOrEqual(98);
      }
    }),
    { seed: 3, numRuns: 200 },
  );
});

test('the starter catalogues have room for each of their stations on the line', () => {
  for (const name of ['training-helicopter', 'training-aeroplane', 'appendix-d']) {
    const catalogue = catalogueOf(name);
    const line = lineThrough(catalogue.stations.map((s) => s.place));
    const gaps = line.stops.map((s, i) => (line.stops[i + 1] ?? line.length) - s);
    // 6.2 is the width of a station's disc on the plan.
    expect(Math.min(...gaps), name).toBeGreaterThan(6.2);
  }
});

test('marks that would lie on one another are moved apart; those with room stay', () => {
  expect(apart([], 100)).toEqual([]);
  expect(apart([10, 40], 100)).toEqual([10, 40]);
  expect(apart([50, 50], 100)).toEqual([47, 53]);
});

test('marks: in order, on the line, never on one another (seed 13)', () => {
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: 0, max: 400, noNaN: true }), { minLength: 1, maxLength: 40 }),
      (places) => {
        const sorted = [...places].sort((a, b) => a - b);
        const moved = apart(sorted, 400);
        moved.forEach((way, i) => {
          expect(way).toBeGreaterThanOrEqual(0);
          expect(way).toBeLessThanOrEqual(400);
          const before = moved[i - 1];
          // A mark is 4.6 wide.
          if (before !== undefined) expect(way - before).toBeGreaterThan(4.6);
        });
      },
    ),
    { seed: 13, numRuns: 200 },
  );
});
