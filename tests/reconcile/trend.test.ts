import fc from 'fast-check';
import { expect, test } from 'vitest';
import { recurringOf, trendsOf } from '#reconcile';
import type { Event, Happening } from '#shared/event';
import type { Fault, SquawkStep } from '#shared/squawk';
import * as n from './notation.ts';

const DAY = 24 * 3600 * 1000;
const MEASURED = n.AIRCRAFT.stations
  .flatMap((s) => s.checks)
  .find((c) => c.measures.some((m) => m.low !== undefined || m.high !== undefined));
const measure = MEASURED?.measures.find((m) => m.low !== undefined || m.high !== undefined);
if (MEASURED === undefined || measure === undefined) throw new Error('no measured check');

let count = 0;
function event(what: Happening, walk: string | null, at: number): Event {
  count += 1;
  const id = `e${String(count).padStart(6, '0')}`;
  return { v: 1, id, device: 'd', walk, aircraft: 'X-1', at, t: null, what, prev: null, hash: '' };
}

/** One walk of a day and hour at which one value was said. */
function walk(day: number, hours: number | null, value: number): Event[] {
  const id = `w${day}`;
  const begun: Happening = { ...n.begun({ hours }), kind: 'walk-begun', catalogue: n.AIRCRAFT.id };
  const statement = {
    ...n.said(MEASURED?.id ?? '', n.value(measure?.id ?? '', value)),
    id: `s${day}`,
  };
  return [
    event(begun, id, day * DAY),
    event({ kind: 'stated', statement } as Happening, id, day * DAY),
  ];
}
const series = (values: readonly (readonly [day: number, hours: number | null, value: number])[]) =>
  trendsOf(
    values.flatMap(([day, hours, value]) => walk(day, hours, value)),
    n.AIRCRAFT,
  )[0];

const low = measure.low ?? 0;

test('one value is no series; two are, and are too few for a trend', () => {
  expect(series([[0, 100, low + 3]])).toBeUndefined();
  const two = series([
    [0, 100, low + 2],
    [1, 101, low + 1],
  ]);
  expect(two).toMatchObject({
    line: null,
    reaches: null,
    text: '2 values are too few for a trend.',
  });
});

test('a steady fall says when it reaches the limit, in aircraft hours where every walk has them', () => {
  const found = series([0, 1, 2, 3, 4, 5, 6, 7].map((i) => [i, 100 + i, low + 2 - i * 0.2]));
  expect(found?.over).toBe('hours');
  expect(found?.reaches?.at).toBeCloseTo(110, 6);
  expect(found?.text).toBe(
    'It reaches the limit at about 110 aircraft hours; between 110 and 110.',
  );
});

test('one walk without hours, and the series is over days', () => {
  const found = series(
    [0, 1, 2, 3, 4, 5, 6, 7].map((i) => [i, i === 3 ? null : 100 + i, low + 2 - i * 0.2]),
  );
  expect(found?.over).toBe('days');
  expect(found?.reaches?.at).toBeCloseTo(10, 6);
});

test('past its limit already: said plainly, and nothing is foretold', () => {
  const found = series([0, 1, 2, 3, 4, 5, 6, 7].map((i) => [i, 100 + i, low + 1 - i * 0.2]));
  expect(found?.reaches).toBeNull();
  expect(found?.text).toMatch(
    /^Past its limit already: .* at least .* is needed\. It changes steadily\.$/,
  );
  const two = series([
    [0, 100, low + 1],
    [1, 101, low - 1],
  ]);
  expect(two?.text).toMatch(/^Past its limit already: .* 2 values are too few/);
});

/** A steady fall of 0.2 an hour whose line stands at `level` above the lower limit at the last point. */
const falling = (level: number, last = level) =>
  series(
    [0, 1, 2, 3, 4, 5, 6, 7].map((i) => [
      i,
      100 + i,
      low + (i === 7 ? last : level + (7 - i) * 0.2),
    ]),
  );

test.each([
  ['before it', falling(1), /^It reaches the limit at about 112 aircraft hours/, true],
  ['at it', falling(0), /^At its limit: .* at least .* is needed\. It changes steadily\.$/, false],
  [
    'past it',
    falling(-0.1),
    /^Past its limit already: .* is needed\. It changes steadily\.$/,
    false,
  ],
  [
    'its line past it and the last value within',
    falling(-0.3, 0.1),
    /^By its trend it is past the limit already, though the last value is within\. It changes steadily\.$/,
    false,
  ],
  [
    'far before it',
    series([0, 1, 2, 3, 4, 5, 6, 7].map((i) => [i, 100 + i, low + 2 - i * 0.01])),
    /^It changes steadily; no limit lies within sight\.$/,
    false,
  ],
])('%s it says so', (_, found, text, foretold) => {
  expect(found?.text).toMatch(text);
  expect(found?.reaches !== null).toBe(foretold);
});

test('scatter without a trend says so and reaches nothing', () => {
  const found = series([3, 5, 2, 6, 3, 4, 5, 3].map((v, i) => [i, 100 + i, low + v / 4]));
  expect(found).toMatchObject({ reaches: null, text: 'No trend can be told from the scatter.' });
});

test('of noise alone a date is foretold in fewer than 1 of 10 series (seed 8)', () => {
  let told = 0;
  const runs = 300;
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: 0.2, max: 1.8, noNaN: true }), { minLength: 10, maxLength: 10 }),
      (v) => {
        if (series(v.map((y, i) => [i, 100 + i, low + y]))?.reaches !== null) told += 1;
      },
    ),
    { seed: 8, numRuns: runs },
  );
  expect(told).toBeLessThan(runs / 10);
});

test('a reviewed reading counts as reviewed: another value, or none', () => {
  const events = [...walk(0, 100, low + 3), ...walk(1, 101, low + 9)];
  const instead = { ...n.said(MEASURED.id, n.value(measure.id, low + 2)), id: 's1r' };
  const review = (of: unknown) =>
    event({ kind: 'reviewed', by: 'I', note: 'misheard', of } as Happening, 'w1', DAY + 1);
  const changed = trendsOf(
    [...events, review({ kind: 'reading', statement: 's1', instead })],
    n.AIRCRAFT,
  );
  expect(changed[0]?.points.map((p) => p.value)).toEqual([low + 3, low + 2]);
  const dropped = trendsOf(
    [...events, review({ kind: 'reading', statement: 's1', instead: null })],
    n.AIRCRAFT,
  );
  expect(dropped).toEqual([]);
});

const fault = (more: Partial<Fault> = {}): Fault => ({
  words: 'weep',
  check: MEASURED.id,
  part: MEASURED.name,
  side: null,
  position: null,
  conditions: [{ condition: 'leak', sign: null, degree: null, extent: null, words: 'weep' }],
  value: null,
  severity: null,
  ...more,
});
const opened = (f: Fault, hours: number | null): SquawkStep => ({
  step: 'opened',
  aircraft: 'X-1',
  fault: f,
  statement: null,
  heard: null,
  sound: null,
  reporter: null,
  found: null,
  hours,
  legacy: false,
});
const step = (squawk: string, what: SquawkStep, day: number) =>
  event({ kind: 'squawk', squawk, step: what }, null, day * DAY);
const rectified: SquawkStep = {
  step: 'rectified',
  by: 'B',
  certificate: '1',
  certificateKind: 'mechanic',
  reference: 'W',
  date: '2026-01-01',
};
const seen = (outcome: 'gone' | 'still-there'): SquawkStep => ({
  step: 'rechecked',
  by: null,
  statement: null,
  outcome,
});

test('a squawk that came back after it was mended is a series of its comings', () => {
  const [series] = recurringOf(
    [
      step('a', opened(fault(), 100), 0),
      step('a', rectified, 1),
      step('a', seen('gone'), 2),
      step('a', { step: 'closed', by: 'A', note: null }, 3),
      step('b', opened(fault(), 130), 9),
      step('b', rectified, 10),
      step('b', seen('still-there'), 11),
    ],
    n.AIRCRAFT,
  );
  expect(series?.points.map((p) => [p.at / DAY, p.value, p.hours])).toEqual([
    [0, 1, 100],
    [9, 2, 130],
    [11, 3, null],
  ]);
  expect(series?.text).toBe('Found 3 times: it came back.');
  expect(series?.line).toBeNull();
});

test('still there is no coming back, and a fault told once is no series', () => {
  const events = [step('a', opened(fault(), 100), 0), step('a', seen('still-there'), 1)];
  expect(recurringOf(events, n.AIRCRAFT)).toEqual([]);
});

test('a squawk measured again and again is a series with the limit of its measure', () => {
  const value = (v: number) =>
    fault({
      value: {
        measure: measure.name,
        said: String(v),
        inUnit: v,
        unit: measure.unit ?? null,
        limit: null,
      },
    });
  const events = [
    step('a', opened(value(low + 2), 100), 0),
    step(
      'a',
      { step: 'amended', fault: value(low + 1), statement: null, compared: 'worse', by: null },
      1,
    ),
    step(
      'a',
      { step: 'amended', fault: value(low - 1), statement: null, compared: 'worse', by: null },
      2,
    ),
  ];
  const [series] = recurringOf(events, n.AIRCRAFT);
  expect(series?.points.map((p) => p.value)).toEqual([low + 2, low + 1, low - 1]);
  expect(series?.limit.low).toBe(low);
  expect(series?.text).toMatch(/^Past its limit already/);
});
