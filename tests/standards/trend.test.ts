import { linearRegression, linearRegressionLine } from 'simple-statistics';
import { expect, test } from 'vitest';
import { robustLine } from '#reconcile';
import { seriesTrend } from '../../src/reconcile/trend.ts';

/** NIST StRD, Norris: data and certified values as reprinted in public test suites of numerical libraries. */
const X = [
  0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9,
  338.0, 447.5, 11.6, 556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0,
  779.0, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5,
];
const Y = [
  0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8,
  339.3, 448.9, 10.8, 557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5,
  778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2,
];

test('NIST StRD Norris: the least-squares line is the certified one, and the robust line lies beside it', () => {
  const { m, b } = linearRegression(X.map((x, i) => [x, Y[i] ?? 0]));
  expect(m).toBeCloseTo(1.00211681802045, 11);
  expect(b).toBeCloseTo(-0.262323073774029, 9);
  const robust = robustLine(X, Y);
  expect(robust?.slope).toBeCloseTo(m, 2);
  expect(robust?.slopes[0]).toBeLessThan(1.00211681802045);
  expect(robust?.slopes[1]).toBeGreaterThan(1.00211681802045);
  const least = linearRegressionLine({ m, b });
  for (const x of [0, 500, 1000]) {
    const level = (robust?.slope ?? 0) * x + (robust?.intercept ?? 0);
    expect(Math.abs(level - least(x))).toBeLessThan(1);
  }
});

/** The same data as a series over aircraft hours, in their order. */
const POINTS = X.map((hours, i) => ({ hours, value: Y[i] ?? 0 }))
  .sort((a, b) => a.hours - b.hours)
  .map((p, i) => ({ ...p, at: i, walk: null }));
const norris = (limit: { low: number | null; high: number | null }, falling = false) =>
  seriesTrend({
    id: 'norris',
    name: 'Norris',
    unit: null,
    limit,
    points: POINTS.map((p) => (falling ? { ...p, value: -p.value } : p)),
  });

test.each([1100, 1500, 2500])(
  'NIST StRD Norris: a limit of %d is reached where the certified line reaches it',
  (bound) => {
    const certified = (bound + 0.262323073774029) / 1.00211681802045;
    // Within one in a thousand: the robust line is another one than least squares.
    for (const found of [
      norris({ low: null, high: bound }),
      norris({ low: -bound, high: null }, true),
    ]) {
      expect(Math.abs((found.reaches?.at ?? 0) / certified - 1)).toBeLessThan(0.001);
      expect(found.reaches?.from).toBeLessThanOrEqual(certified);
      expect(found.reaches?.to).toBeGreaterThanOrEqual(certified);
    }
  },
);

test('NIST StRD Norris: a limit that the last value is past is passed, and one out of sight is not foretold', () => {
  expect(norris({ low: null, high: 900 })).toMatchObject({ reaches: null });
  expect(norris({ low: null, high: 900 }).text).toContain('Past its limit already');
  expect(norris({ low: null, high: 5000 }).text).toContain('no limit lies within sight');
  // It rises: the lower limit is never reached.
  expect(norris({ low: -10, high: null }).reaches).toBeNull();
});

/** Sen (1968), J. Am. Stat. Assoc. 63: the example, as reprinted in the tests of SciPy's theilslopes. There at 93 %. */
test('Sen (1968): slope 4; our 95 % interval holds the published one at 93 %, 3.71 to 4.38', () => {
  const line = robustLine([1, 2, 3, 4, 10, 12, 18], [9, 15, 19, 20, 45, 55, 78]);
  expect(line?.slope).toBeCloseTo(4, 12);
  expect(line?.slopes[0]).toBeLessThanOrEqual(3.72);
  expect(line?.slopes[1]).toBeGreaterThanOrEqual(4.37);
  expect(line?.slopes[0]).toBeGreaterThan(3);
  expect(line?.slopes[1]).toBeLessThan(6);
});
