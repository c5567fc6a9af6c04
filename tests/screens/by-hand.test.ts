import { expect, test } from 'vitest';
import { createGrammar, parseDictionary } from '#grammar';
import { FIRST_SCENE } from '#shared/scene';
import { CommandName } from '#shared/statement';
import { heard } from '../grammar/fixtures/catalogue.ts';
import { BY_HAND } from './by-hand.ts';
import { catalogueOf } from './cases.ts';
import { testWeights } from '../weights.ts';

const grammar = createGrammar(catalogueOf('training-helicopter'), {
  weights: testWeights(),
  pronunciations: parseDictionary(''),
});
const scene = { ...FIRST_SCENE, station: 'engine-right', lastId: 's' };

test('every command that can be spoken has its touch and its key in the table', () => {
  const inTable = BY_HAND.map((r) => r.is);
  expect(CommandName.options.filter((c) => !inTable.includes(c))).toEqual([]);
});

test.each(BY_HAND)('"$say" is read as $is', ({ say, is }) => {
  const { statements } = grammar.read(heard(say, 'h'), scene);
  expect(statements.map((s) => (s.kind === 'command' ? s.command : s.kind))).toContain(is);
});
