import { expect, test } from 'vitest';
import { checksById, parseLabel, type Label } from '../corpus/format.ts';
import { conditionLabels, readCatalogue } from '../corpus/load.ts';
import { ratedAsLabelled } from './reader/ratings.ts';

const catalogue = readCatalogue('tests/corpus/helicopter.yaml');
const labels = (...is: string[]): Label[] =>
  is.map((one) => parseLabel(one, catalogue, checksById(catalogue), conditionLabels()));
const once = catalogue.stations.flatMap((s) => s.checks).filter((c) => c.repeat === undefined);
const [first = '', second = ''] = once.map((c) => c.id);

test('a rating of the fault at a check is the claim of that check which says only how bad it is', () => {
  const read = ratedAsLabelled(labels(`${first} @ground`), labels('rating ground'), first);
  expect(read).toMatchObject([{ kind: 'claim', checks: [first], severity: 'ground' }]);
});

test('how bad it was read to be stays as it was read', () => {
  const read = ratedAsLabelled(labels(`${first} @ground`), labels('rating watch'), first);
  expect(read).toMatchObject([{ kind: 'claim', checks: [first], severity: 'watch' }]);
});

test.each([
  ['of another fault', [`${first} @ground`], ['rating ground'], second],
  ['of no fault', [`${first} @ground`], ['rating ground'], null],
  ['where the labels tell a fault too', [`${first} +crack @ground`], ['rating ground'], first],
  ['where the labels have a rating', ['rating ground'], ['rating ground'], first],
  ['where the check was read', [`${first} @ground`], [`${first} bad`, 'rating ground'], first],
])('it is left as it was read %s', (_, truth, read, rated) => {
  expect(ratedAsLabelled(labels(...truth), labels(...read), rated)).toEqual(labels(...read));
});
