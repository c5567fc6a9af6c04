import { expect, test } from 'vitest';
import { fold, kappa, kappaOf } from '#reconcile';
import * as n from './notation.ts';

const { said, good, has } = n;

const standing = (check: string, to: 'spoken' | 'part' | 'unspoken'): n.Line => ({
  kind: 'reviewed',
  by: 'I. Structor',
  note: '',
  of: { kind: 'standing', check, standing: to },
});
const reading = (number: number, instead: ReturnType<typeof said> | null): n.Line => ({
  kind: 'reviewed',
  by: 'I. Structor',
  note: '',
  of: {
    kind: 'reading',
    statement: n.s(number),
    instead: instead === null ? null : { ...instead, id: `review-${number}` },
  },
});

function both(check: string, ...lines: n.Line[]) {
  const found = fold(n.AIRCRAFT, n.walk(n.begun(), ...lines)).checks.find((c) => c.check === check);
  return [found?.standing, found?.reviewed];
}

test.each<[string, string, n.Line[], unknown]>([
  [
    'said outright',
    'fan',
    [said('fan', good()), standing('fan', 'unspoken')],
    ['spoken', 'unspoken'],
  ],
  [
    'the latest one counts',
    'fan',
    [standing('fan', 'part'), standing('fan', 'spoken')],
    ['unspoken', 'spoken'],
  ],
  ['it was no result', 'fan', [said('fan', good()), reading(1, null)], ['spoken', 'unspoken']],
  [
    'it was another check',
    'fan',
    [said('fan', good()), reading(1, said('skin', good()))],
    ['spoken', 'unspoken'],
  ],
  [
    'it was another check, there',
    'skin',
    [said('fan', good()), reading(1, said('skin', good()))],
    ['unspoken', 'spoken'],
  ],
  [
    'it was right',
    'fan',
    [said('fan', good()), reading(1, said('fan', good()))],
    ['spoken', 'spoken'],
  ],
  ['nobody reviewed it', 'fan', [said('fan', good())], ['spoken', null]],
  [
    '"unspoken" of a finished walk is skipped',
    'fan',
    [said('fan', good()), n.finish, standing('fan', 'unspoken')],
    ['spoken', 'skipped'],
  ],
])('R6 a review stands beside the original: %s', (_name, check, lines, expected) => {
  expect(both(check, ...lines)).toEqual(expected);
});

test('R4 a review takes no finding away', () => {
  const coverage = fold(n.AIRCRAFT, n.walk(n.begun(), said('fan', has('crack')), reading(1, null)));
  expect(n.findings(coverage)).toEqual(['fan: crack, ground, stands']);
});

/*
 * The worked example of statpsych::ci.kappa (D. G. Bonett, CRAN, manual page of
 * ci.kappa): 31, 12, 4, 58, for which it prints the estimate, the standard
 * error and the 95 % limits below.
 */
test('kappa: the worked example of the R package statpsych', () => {
  const found = kappa([
    [31, 12],
    [4, 58],
  ]);
  expect(found.kappa).toBeCloseTo(0.6756757, 7);
  expect(found.error).toBeCloseTo(0.07344761, 8);
  expect(found.interval?.[0]).toBeCloseTo(0.531721, 7);
  expect(found.interval?.[1]).toBeCloseTo(0.8196303, 7);
});

/* What vcd::Kappa (R) prints for its data set SexualFun: 0.1293, ASE 0.0686. From memory. */
test('kappa: four classes, as the R package vcd prints them (from memory)', () => {
  const found = kappa([
    [7, 7, 2, 3],
    [2, 8, 3, 7],
    [1, 5, 4, 9],
    [2, 8, 9, 14],
  ]);
  expect(found.kappa).toBeCloseTo(0.1293, 4);
  expect(found.error).toBeCloseTo(0.0686, 4);
});

/* Counted by hand: 35 of 50 agree, 25 would by chance: (0.7 - 0.5) / (1 - 0.5). */
test('kappa: fifty proposals, two readers', () => {
  expect(
    kappa([
      [20, 5],
      [10, 15],
    ]),
  ).toMatchObject({ n: 50, observed: 0.7, expected: 0.5 });
  expect(
    kappa([
      [20, 5],
      [10, 15],
    ]).kappa,
  ).toBeCloseTo(0.4, 10);
});

test.each([
  [
    'full agreement',
    [
      [5, 0],
      [0, 5],
    ],
    1,
  ],
  [
    'none but chance',
    [
      [25, 25],
      [25, 25],
    ],
    0,
  ],
  [
    'against each other',
    [
      [0, 5],
      [5, 0],
    ],
    -1,
  ],
  [
    'all in one class',
    [
      [9, 0],
      [0, 0],
    ],
    null,
  ],
  ['nothing marked', [], null],
])('kappa: %s', (_name, table, expected) => {
  expect(kappa(table).kappa).toEqual(expected);
});

test('kappa of a sheet and its reviewer, over what the reviewer marked', () => {
  const coverage = fold(
    n.AIRCRAFT,
    n.walk(
      n.begun(),
      said('fan', good()),
      said('skin', good()),
      said('belts', good('condition')),
      standing('fan', 'spoken'),
      standing('skin', 'unspoken'),
      standing('belts', 'part'),
      standing('skid', 'unspoken'),
    ),
  );
  // Sheet: spoken spoken part unspoken; reviewer: spoken unspoken part unspoken.
  // Agree 3 of 4; by chance (2·1 + 1·1 + 1·2) / 16 = 5/16.
  const found = kappaOf(coverage);
  expect(found).toMatchObject({ n: 4, observed: 0.75, expected: 5 / 16 });
  expect(found.kappa).toBeCloseTo((0.75 - 5 / 16) / (1 - 5 / 16), 10);
});
