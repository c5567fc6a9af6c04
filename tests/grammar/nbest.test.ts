import { expect, test } from 'vitest';
import { createGrammar } from '#grammar';
import { FIRST_SCENE } from '#shared/scene';
import { FIXTURE, heard, pronunciations } from './fixtures/catalogue.ts';
import { summary } from './summary.ts';
import { testWeights } from '../weights.ts';

const grammar = createGrammar(FIXTURE, {
  pronunciations: pronunciations(),
  weights: testWeights(),
});
const told = ([best = '', ...others]: readonly string[]) =>
  grammar
    .read(
      {
        ...heard(best, 'h'),
        alternatives: others.map((text) => ({ text, confidence: null })),
      },
      FIRST_SCENE,
    )
    .statements.map(summary);

test.each([
  ['a name', ['the column is secure', 'the cowling is secure']],
  ['the end', ['the cowling is', 'the cowling is secure']],
  ['a word', ['the cowling is zig your', 'the cowling is secure']],
  ['all', ['what a day', 'the cowling is secure']],
  ['others that mean nothing', ['what a day', 'the cowling is secure', 'the calling is secure']],
])('n-best: %s that only another reading has is taken', (_what, readings) => {
  expect(told(readings)).toEqual(['cowling · good (security)']);
});

test.each([
  [
    'two others that contradict each other',
    ['the column is secure', 'the cowling is secure', "the cowling isn't secure"],
    'heard as "the cowling is secure" or as "the cowling isn\'t secure"',
  ],
  [
    'two others with two names',
    ['the column is secure', 'the cowling is secure', 'the exhaust is secure'],
    'heard as "the cowling is secure" or as "the exhaust is secure"',
  ],
  [
    'a result and an intention',
    ['the column is secure', 'the cowling is secure', 'make sure the cowling is secure'],
    'heard as "the cowling is secure" or as "make sure the cowling is secure"',
  ],
  [
    'a "not" that only another one has',
    ['the cowling is secure', 'the cowling is not secure'],
    'heard as well: "the cowling is not secure"',
  ],
])('n-best: %s are asked about', (_what, readings, doubt) => {
  expect(told(readings)).toEqual([`cowling · good (security) · doubtful: ${doubt}`]);
});

test.each([
  ['a result by one of no other check', ['the cowling is secure', 'the exhaust is cracked']],
  ['a result by a weaker one', ['the cowling is secure', 'the cowing is secured']],
  ['a result by talk', ['the cowling is secure', 'is the cowling secure']],
])('n-best: %s is not put in question', (_what, readings) => {
  expect(told(readings)).toEqual(['cowling · good (security)']);
});

test('n-best: a finding is never taken back by another reading', () => {
  const [best = ''] = told(['the cowling is cracked']);
  expect(told(['the cowling is cracked', 'the cowling is not cracked'])).toEqual([best]);
});

test('n-best: an order counts from another reading only where no other one differs', () => {
  expect(told(['whole', 'hold'])).toEqual(['command hold']);
  expect(told(['whole', 'hold', 'the cowling is secure'])).toEqual(['talk']);
});

test('n-best: what is asked about is what the scene goes on from', () => {
  const { statements, scene } = grammar.read(
    {
      ...heard('the cowling is secure', 'h'),
      alternatives: [{ text: 'the cowling is not secure', confidence: null }],
    },
    FIRST_SCENE,
  );
  expect(scene.last).toEqual(statements[0]);
});
