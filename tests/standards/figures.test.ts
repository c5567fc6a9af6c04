import { expect, test } from 'vitest';
import { Catalogue } from '#shared/catalogue';
import { FIRST_SCENE } from '#shared/scene';
import { heardOf, ourReader } from '../bench/grammar/ours.ts';

/**
 * Figures as the FAA and ICAO have them said.
 *
 * Sources: FAA Aeronautical Information Manual 4-2-7, table 4-2-2 (figures), and
 * 4-2-8 (numbers); ICAO Annex 10 Volume II, 5.2.1.4.1. Read for the table that
 * this test carries.
 */
const reader = ourReader(
  Catalogue.parse({
    v: 1,
    id: 'figures',
    name: 'Figures',
    kind: 'other',
    stations: [
      {
        id: 'bench',
        name: 'bench',
        place: { x: 50, y: 50 },
        checks: [
          {
            id: 'gauge',
            name: 'test gauge',
            measures: [{ id: 'reading', name: 'reading', unit: '[psi]', low: 0, high: 99999 }],
          },
        ],
      },
    ],
  }),
);

function read(figure: string): number | null {
  const { statements } = reader.read(heardOf(`test gauge ${figure} psi`), FIRST_SCENE);
  const found = statements.flatMap((s) => (s.kind === 'observation' ? s.values : []));
  const value = found[0];
  return found.length === 1 && value !== undefined && value.low === value.high ? value.low : null;
}

test.each([
  ['WUN', 1],
  ['TOO', 2],
  ['TREE', 3],
  ['FOW-ER', 4],
  ['FIFE', 5],
  ['SIX', 6],
  ['SEV-EN', 7],
  ['AIT', 8],
  ['NIN-ER', 9],
  ['ZEE-RO', 0],
])(
  'AIM table 4-2-2: "%s" is %d, its syllables joined as a recogniser would write them',
  (printed, value) => {
    expect(read(printed.toLowerCase().replace('-', ''))).toBe(value);
  },
);

test.each([
  ['five hundred', 500],
  ['four thousand five hundred', 4500],
  ['one zero thousand', 10000],
  ['one three thousand five hundred', 13500],
  ['one two two point one', 122.1],
])('AIM 4-2-8: "%s" is %d', (said, value) => {
  expect(read(said)).toBe(value);
});

test.each([
  ['three thousand four hundred', 3400],
  ['one two thousand', 12000],
  ['tree tousand fower hundred', 3400],
  ['one one eight decimal one', 118.1],
  ['one one eight day see mal one', 118.1],
])('ICAO Annex 10 II 5.2.1.4.1: "%s" is %d', (said, value) => {
  expect(read(said)).toBe(value);
});

test.each([
  ['three two', 32],
  ['thirty-two', 32],
  ['thirty two', 32],
  ['six and a half', 6.5],
  ['six point five', 6.5],
  ['a hundred and five', 105],
  ['one hundred eighty', 180],
  ['one eighty', 180],
])('common practice, no source: "%s" is %d', (said, value) => {
  expect(read(said)).toBe(value);
});

test.each([['to'], ['for'], ['won'], ['tea']])('a miss: "%s" alone is no figure here', (said) => {
  expect(read(said)).toBeNull();
});
