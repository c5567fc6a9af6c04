import { expect, test } from 'vitest';
import { fold, trendsOf } from '#reconcile';
import { pdfOf, sheetCsv, sheetText, squawkTitle } from '#report';
import { faultOf } from '../../src/record/squawk.ts';
import { questionsOf } from '../../src/record/questions.ts';
import { Catalogue } from '#shared/catalogue';
import type { Event } from '#shared/event';
import type { Observation, Statement } from '#shared/statement';
import { measuredWords } from '#shared/told';
import { testLetters } from '../letters.ts';
import { pagesOf } from '../report/pdf-text.ts';
import * as n from './notation.ts';

/*
 * Issue 16: values for each cylinder, wheel or tank, said in one statement. What
 * the reader gives of a row is taken from it as it is today: the unit with one of
 * the values, or a second value called "in a wrong unit".
 */

const catalogue = Catalogue.parse({
  v: 1,
  id: 'rows',
  name: 'Rows',
  kind: 'aeroplane',
  stations: [
    {
      id: 'engine',
      name: 'Engine',
      place: { x: 50, y: 20 },
      checks: [
        {
          id: 'compression',
          name: 'cylinder compression',
          acts: ['measure'],
          repeat: 4,
          measures: [{ id: 'leak', name: 'pressure', unit: '[psi]', low: 72, severity: 'ground' }],
        },
        {
          id: 'tyres',
          name: 'main tyres',
          acts: ['measure'],
          repeat: { of: ['left', 'right'], plural: true },
          measures: [
            { id: 'air', name: 'pressure', unit: '[psi]', low: 26, high: 31, severity: 'defer' },
          ],
        },
      ],
    },
  ],
});

const psi = (measure: string, amount: number): n.Part =>
  n.value(measure, amount, {
    unit: '[psi]',
    inUnit: { low: amount, high: amount, unit: '[psi]' },
    span: { from: 0, to: 1, words: `${String(amount)} psi` },
  });
const bare = (measure: string, amount: number): n.Part =>
  n.value(measure, amount, { unit: null, inUnit: null, trouble: 'no-unit' });
/** As the reader calls the second value in a unit whose measure has one already. */
const second = (amount: number): n.Part =>
  n.value(null, amount, {
    unit: '[psi]',
    inUnit: null,
    trouble: 'wrong-unit',
    span: { from: 0, to: 1, words: `${String(amount)} psi` },
  });

const covered = (...said: Statement[]) => fold(catalogue, n.walk(n.begun(), ...said));
const checkIn = (coverage: ReturnType<typeof covered>, id: string) => {
  const found = coverage.checks.find((c) => c.check === id);
  if (found === undefined) throw new Error(id);
  return found;
};
const asked = catalogue.stations[0]?.checks[0];
const row = (...amounts: number[]) =>
  n.said('compression', n.all, ...amounts.map((a) => psi('leak', a)));

test.each([
  ['each with its unit', row(76, 74, 73, 75)],
  [
    'the unit with the last',
    n.said(
      'compression',
      n.all,
      bare('leak', 76),
      bare('leak', 74),
      bare('leak', 73),
      psi('leak', 75),
    ),
  ],
  [
    'all but the first called a wrong unit',
    n.said('compression', n.all, psi('leak', 76), second(74), second(73), second(75)),
  ],
])('one value for each cylinder, %s: each is kept at its own', (_, said) => {
  const coverage = covered(said);
  const check = checkIn(coverage, 'compression');
  expect([check.standing, coverage.findings]).toEqual(['spoken', []]);
  expect(measuredWords(check, asked)).toBe('76 psi at 1, 74 psi at 2, 73 psi at 3, 75 psi at 4');
});

test('R8 the one that is out of limits is the finding, at its own place, wherever it stands in the row', () => {
  const coverage = covered(
    n.said('compression', n.all, psi('leak', 76), second(60), second(73), second(70)),
  );
  expect(coverage.findings).toHaveLength(1);
  expect(coverage.findings[0]).toMatchObject({
    instances: ['2', '4'],
    severity: 'ground',
    value: {
      said: '60 psi',
      each: [
        { instance: '2', said: '60 psi' },
        { instance: '4', said: '70 psi' },
      ],
    },
  });
  const words = 'cylinder compression, 2, 4: 60 psi at 2, 70 psi at 4, at least 72 psi';
  expect(sheetText(coverage, catalogue, { why: false })).toContain(words);
});

test('three in a row of four: the first three are measured, the fourth is asked for', () => {
  const check = checkIn(covered(row(76, 74, 73)), 'compression');
  expect(check.standing).toBe('part');
  expect(check.missing.instances).toEqual(['4']);
  expect(measuredWords(check, asked)).toBe('76 psi at 1, 74 psi at 2, 73 psi at 3');
});

test('R8 a value in a row that cannot be used is asked about, though the others can', () => {
  const litres = n.value('leak', 6, { unit: 'L', inUnit: null, trouble: 'wrong-unit' });
  const said = n.said(
    'compression',
    n.all,
    psi('leak', 76),
    litres,
    psi('leak', 73),
    psi('leak', 75),
  );
  expect(checkIn(covered(said), 'compression').standing).toBe('question');
  expect(questionsOf(said, { catalogue, rated: new Set() }).map((q) => q.kind)).toEqual(['unit']);
});

test('R6 a later row that calls a bad one good contradicts it; one about others does not', () => {
  const three = n.said('compression', n.named('3'), psi('leak', 60));
  expect(checkIn(covered(three, row(76, 74, 73, 75)), 'compression').standing).toBe('question');
  const bad = row(76, 60, 73, 75);
  const again = n.said('compression', n.named('3'), psi('leak', 75));
  expect(covered(bad, again).findings[0]?.settled).toBe('stands');
  const mended = n.said('compression', n.named('2'), psi('leak', 75));
  expect(covered(bad, mended).findings[0]?.settled).toBe('in-question');
});

test('R5 of left and right nobody can tell which was read first: measured, and neither is called so', () => {
  const coverage = covered(n.said('tyres', n.all, psi('air', 28), psi('air', 24)));
  const check = checkIn(coverage, 'tyres');
  expect(check.missing.measures).toEqual([]);
  expect(measuredWords(check, undefined)).toBe('28 psi, 24 psi (which is which was not said)');
  expect(coverage.findings[0]).toMatchObject({ instances: [], value: { said: '24 psi' } });
});

test('one value for both is both: no row', () => {
  const coverage = covered(n.said('tyres', n.all, psi('air', 28)));
  expect(measuredWords(checkIn(coverage, 'tyres'), undefined)).toBe(
    '28 psi at left, 28 psi at right',
  );
});

test('each place has a trend of its own', () => {
  const walk = (day: number, ...amounts: number[]): Event[] =>
    n.walk(n.begun({ catalogue: 'rows' }), row(...amounts)).map((e) => ({
      ...e,
      id: `${e.id}-${String(day)}`,
      walk: `w${String(day)}`,
      at: day * 86_400_000,
    }));
  const trends = trendsOf([...walk(1, 76, 74, 73, 75), ...walk(2, 75, 72, 73, 74)], catalogue);
  expect(trends.map((t) => [t.name, t.points.map((p) => p.value)])).toEqual([
    ['1 cylinder compression, pressure', [76, 75]],
    ['2 cylinder compression, pressure', [74, 72]],
    ['3 cylinder compression, pressure', [73, 73]],
    ['4 cylinder compression, pressure', [75, 74]],
  ]);
});

test('the squawk names the places that are out, each with its value, and no good one', () => {
  const said = row(76, 60, 73, 70) as Observation;
  const fault = faultOf(said, 'as said', catalogue);
  expect(fault).toMatchObject({ position: '2, 4', value: { inUnit: 60, unit: '[psi]' } });
  expect(squawkTitle(fault, catalogue)).toBe('Cylinder compression: 60 psi at 2, 70 psi at 4');
  // A good value said before the bad one is not the fault.
  const late = n.said('tyres', n.all, psi('air', 28), psi('air', 24)) as Observation;
  expect(faultOf(late, 'as said', catalogue).value?.inUnit).toBe(24);
});

test('sheet, form of a spreadsheet and paper tell each value', async () => {
  const coverage = covered(row(76, 74, 73, 75));
  const told = '76 psi at 1, 74 psi at 2, 73 psi at 3, 75 psi at 4';
  const head = { aircraft: 'X-1', pilot: null, instructor: null, begun: 0, hours: null };
  const parts = { coverage, catalogue, head, size: 'a4' as const };
  expect(sheetText(coverage, catalogue, { why: false })).toContain(`measured: ${told}`);
  expect(sheetCsv(parts)).toContain(told);
  for (const kind of ['sheet', 'debrief'] as const)
    expect((await pagesOf(await pdfOf(kind, parts, testLetters()))).join(' ')).toContain(
      `measured: ${told}`,
    );
});
