import { expect, test } from 'vitest';
import { fold } from '#reconcile';
import { askedOn, askedToday } from '#shared/asked';
import { Circumstance } from '#shared/circumstance';
import { countOf } from '#shared/counts';
import { rowsOf } from '../../src/screens/begin/rows.ts';
import { staysFor } from '../../src/screens/parts/Tell.tsx';
import { catalogueOf } from './cases.ts';
import { fakeServices } from './fake.ts';
import { madeWalk } from './made.ts';

const CATALOGUES = ['training-helicopter', 'training-aeroplane', 'appendix-d'];
const NOTHING = { open: 0, checks: [] };

/** The walk as it begins: nothing said yet. */
function beginning(
  name: string,
  circumstances: Circumstance[],
  squawks: { squawk: string; check: string | null; text: string }[] = [],
) {
  const catalogue = catalogueOf(name);
  const [begun] = madeWalk(catalogue, 'w', { until: 0, finished: false, signed: false });
  if (begun?.what.kind !== 'walk-begun') throw new Error('not begun');
  return fold(catalogue, [{ ...begun, what: { ...begun.what, circumstances, squawks } }]);
}

test.each(CATALOGUES)(
  '%s: the number of checks on the first screen is the number the walk asks for, on every kind of day',
  (name) => {
    const asked = askedOn(catalogueOf(name).stations.flatMap((s) => s.checks));
    const all = Circumstance.options;
    for (let mask = 0; mask < 2 ** all.length; mask += 1) {
      const today = all.filter((_, i) => (mask >> i) % 2 === 1);
      expect(askedToday(asked, today, NOTHING), today.join(' ')).toBe(
        countOf(beginning(name, today).checks).required,
      );
    }
  },
);

test('a carried squawk asks for its check, and makes it a walk after a squawk', () => {
  const catalogue = catalogueOf('training-helicopter');
  const asked = askedOn(catalogue.stations.flatMap((s) => s.checks));
  for (const { check } of asked.sometimes) {
    const squawks = [{ squawk: 'q', check, text: 'as before' }];
    expect(askedToday(asked, [], { open: 1, checks: [check] }), check).toBe(
      countOf(beginning('training-helicopter', [], squawks).checks).required,
    );
  }
});

test('the aircraft walked last is on top, the others after it, and kinds stand apart', () => {
  const catalogues = CATALOGUES.map(catalogueOf);
  const house = fakeServices({
    catalogues,
    kept: [],
    walking: null,
    listening: { state: 'typed', ear: 'typed' },
    last: null,
    question: null,
    squawks: null,
    settings: {},
    offers: {
      aircraft: ['Rowan 2', 'Linnet 5', 'Heron 1'].map((aircraft) => ({
        aircraft,
        catalogue: 'training-helicopter',
        hours: null,
        openSquawks: [],
      })),
      last: { aircraft: 'Linnet 5', catalogue: 'training-helicopter' },
    },
  });
  const { known, kinds } = rowsOf(house.choices.get());
  expect(known.map((r) => r.aircraft)).toEqual(['Linnet 5', 'Rowan 2', 'Heron 1']);
  expect(kinds.map((r) => r.catalogue.name)).toEqual(catalogues.map((c) => c.name));
});

test('a sentence that is told stays long enough to be read twice at 200 words a minute', () => {
  expect(staysFor('Too short.')).toBe(6000);
  expect(staysFor(Array.from({ length: 30 }, () => 'word').join(' '))).toBe(18_000);
});
