import { expect, test } from 'vitest';
import type { Observation, Statement } from '#shared/statement';
import { readIn } from './said.ts';

/** Where one stands: the place of what is told is the place that was told of last (beside.ts). */

const read = readIn('tests/corpus/walks/figures/skerrow-tourer.catalogue.yaml');
const told = (statements: readonly Statement[]): Observation[] =>
  statements.flatMap((s) => (s.kind === 'observation' && s.force === 'result' ? [s] : []));
const places = (statements: readonly Statement[], check: string): string[] =>
  told(statements).flatMap((o) =>
    o.about.kind === 'check' && o.about.check === check ? [o.about.which.instances.join()] : [],
  );

test.each([
  [['Left tyre is in good condition.', 'Leg is dry.'], 'leg', 'left'],
  [['Right tyre is in good condition.', 'Oleo shows four centimetres.'], 'leg', 'right'],
  [['Right tyre is in good condition.', 'The leg has an oil leak.'], 'leg', 'right'],
  [['Left tyre has a cut.', 'Creep mark is aligned.'], 'creep-mark', 'left'],
  [["I'm down at the nose wheel now.", 'The tyre is at two point one bar.'], 'tyre', 'nose'],
])('R5 %j is said of %s at the %s', (says, check, place) => {
  expect(places(read(...says), check)).toEqual([place]);
});

test('R5 what nobody said is told as taken from where one stands', () => {
  const [leg] = told(read('Left tyre is in good condition.', 'Leg is dry.'));
  expect(leg?.why.join()).toContain('the one that was told of last');
  const [said] = told(read('Left tyre is in good condition.', 'Left leg is dry.'));
  expect(said?.why.join()).not.toContain('the one that was told of last');
});

test.each([
  // Several are said.
  [['Left tyre is in good condition.', 'Legs are all dry.'], 'leg', 'left'],
  // Another one is said.
  [['Left tyre is in good condition.', 'Right leg is dry.'], 'leg', 'left'],
  [['Left tyre is in good condition.', 'The other leg is dry.'], 'leg', 'left'],
  // It was told of at another station.
  [['Left static hole is clear.', 'The leg is dry.'], 'leg', 'left'],
  // Two places were told of.
  [['Left and right tyre are in good condition.', 'The leg is dry.'], 'leg', 'left'],
])('R5 %j does not say it of the %s at the %s', (says, check, place) => {
  expect(places(read(...says), check)).not.toContain(place);
});

test.each([
  ['Left and nose tyre are in good condition.', 'tyre', 'nose,left'],
  ['Outer and inner drain on the left are clear.', 'left-drain', 'inner,outer'],
])('R1 "%s" is said of no other place', (say, check, instances) => {
  expect(places(read(say), check)).toEqual([instances]);
});
