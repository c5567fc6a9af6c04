import { expect, test } from 'vitest';
import type { Observation, Statement } from '#shared/statement';
import { tokensOf } from '../../grammar/tokens.ts';
import { heardOf } from '../bench/grammar/ours.ts';
import { readIn } from './said.ts';

/** Ordinary ways of speaking that strangers had and nobody had written for. */

const readers = new Map<string, ReturnType<typeof readIn>>();
function read(file: string, ...says: readonly string[]): readonly Statement[] {
  const reader = readers.get(file) ?? readIn(file);
  readers.set(file, reader);
  return reader(...says);
}
const AEROPLANE = 'seeds/catalogues/training-aeroplane.yaml';
const HELICOPTER = 'seeds/catalogues/training-helicopter.yaml';
const GYRO = 'tests/corpus/single/wet-gloves/wet-gloves-gyro.catalogue.yaml';

const results = (statements: readonly Statement[]): Observation[] =>
  statements.flatMap((s) => (s.kind === 'observation' && s.force === 'result' ? [s] : []));
/** What counts as good: check and places. */
const good = (statements: readonly Statement[]): string[] =>
  results(statements).flatMap((o) =>
    o.verdict?.good === true && o.doubtful === null && o.about.kind === 'check'
      ? [`${o.about.check} ${o.about.which.instances.join()}`]
      : [],
  );
/** What is at fault, sure or asked about: check and places. */
const faults = (statements: readonly Statement[]): string[] =>
  results(statements).flatMap((o) =>
    (o.conditions.some((c) => c.present) || o.verdict?.good === false) && o.about.kind === 'check'
      ? [`${o.about.check} ${o.about.which.instances.join()}`]
      : [],
  );
const values = (statements: readonly Statement[]): (number | string | null)[] =>
  results(statements).flatMap((o) => o.values.flatMap((v) => [v.low ?? v.step?.name ?? null]));

test.each([
  ['uncracked', ['not', 'cracked']],
  ['unworn', ['not', 'worn']],
  ['unlatched', ['unlatched']],
  ['undone', ['undone']],
  ['under', ['under']],
])('R3 "%s" is %j', (word, words) => {
  expect(tokensOf(heardOf(word, 'h')).tokens.map((t) => t.word)).toEqual(words);
});

test.each([
  ["Left tank's right up at the tabs.", ['left', 'tank', 'up', 'at', 'the', 'tabs']],
  ['Left good, right up at thirty.', ['left', 'good', 'right', 'up', 'at', 'thirty']],
  ['The right up lock.', ['the', 'right', 'up', 'lock']],
])('"%s": right is quite, or a side', (say, words) => {
  expect(tokensOf(heardOf(say, 'h')).tokens.map((t) => t.word)).toEqual(words);
});

test.each([
  ['Oil level four quarts, well, four and a half.', 4.5],
  ['Oil level five quarts, I mean six.', 6],
  ['Oil level four quarts.', 4],
])('R8 "%s": of two figures the one that corrects', (say, value) => {
  expect(values(read(HELICOPTER, say)).at(-1)).toBe(value);
});

test('R8 "mil" of what is measured in millimetres is a millimetre', () => {
  const [told] = results(read(GYRO, 'Brake pads on the left are four mil.'));
  expect(told?.values).toMatchObject([{ unit: 'mm', low: 4, trouble: null }]);
});

test.each([
  ['All the cross tubes bar the rear are straight.', ['cross-tubes front']],
  ['Both cross tubes except the front one are straight.', ['cross-tubes rear']],
])('R1 "%s": the others, and not that one', (say, expected) => {
  expect(good(read(HELICOPTER, say))).toEqual(expected);
});

test('R4 "both doors latch, excepting the right one, which will not latch": a fault at one, no good of it', () => {
  const said = read(AEROPLANE, 'Both doors latch, excepting the right one, which will not latch.');
  expect(faults(said)).toEqual(['doors right']);
  expect(good(said)).toEqual([]);
});

test.each([
  ['Legs solid.', 'gear-leg left,right'],
  ['Both legs look all right to me.', 'gear-leg left,right'],
  ['Fork good.', 'nose-fork once'],
])('"%s": the noun of a name, where nothing else has it', (say, expected) => {
  expect(good(read(GYRO, say))).toEqual([expected]);
});

test('"Tyres, legs, all good": each of a list', () => {
  expect(good(read(GYRO, 'Tyres, legs, all good.')).sort()).toEqual([
    'gear-leg left,right',
    'main-tyre left,right',
  ]);
});

test.each([
  "The trailer's got a cut in its left tyre.",
  "My uncle's had a crack right through its mast.",
  'The left tyre is better than the right one.',
  "It's not that the left rod isn't secure.",
  "I'm pretending the left tyre is good so you can see.",
])('R1, R2 nothing counts of "%s"', (say) => {
  expect(good(read(GYRO, say))).toEqual([]);
  expect(
    results(read(GYRO, say)).filter(
      (o) => o.doubtful === null && o.conditions.some((c) => c.present),
    ),
  ).toEqual([]);
});

test('R4 a bearing that is blue from heat is a fault', () => {
  expect(faults(read(HELICOPTER, 'Shaft damper bearing is blue from heat.'))).toHaveLength(1);
});

test('"I tell a lie" puts a fault at the other place (R6)', () => {
  const said = results(
    read(HELICOPTER, "Left skid tube is cracked, I tell a lie, it's the right."),
  );
  const [wrong, right] = said;
  expect(right).toMatchObject({ amends: wrong?.id, about: { which: { instances: ['right'] } } });
});
