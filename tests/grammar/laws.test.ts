import fc from 'fast-check';
import { expect, test } from 'vitest';
import { createGrammar } from '#grammar';
import { FIRST_SCENE } from '#shared/scene';
import type { Statement } from '#shared/statement';
import { FIXTURE, heard, pronunciations } from './fixtures/catalogue.ts';
import { summary } from './summary.ts';
import { testWeights } from '../weights.ts';

const grammar = createGrammar(FIXTURE, {
  pronunciations: pronunciations(),
  weights: testWeights(),
});
const read = (text: string): readonly Statement[] =>
  grammar.read(heard(text, 'h'), FIRST_SCENE).statements;
/** What may count: asserted results that nobody has to be asked about. */
const counting = (statements: readonly Statement[]): string[] =>
  statements
    .filter((s) => s.kind === 'observation' && s.force === 'result' && s.doubtful === null)
    .map(summary);

const NAMES = [
  'cowling',
  'exhaust',
  'cooling fan',
  'swashplate',
  'trim tab',
  'left brake line',
  'right brake line',
  'boom skin',
  'left skid tube',
  'right skid tube',
];
const SAID = ['is good', 'has a crack', 'is fine', 'no cracks', 'is dented', 'no dents or cracks'];
const name = fc.constantFrom(...NAMES);
const told = fc.constantFrom(...SAID);
const TALK = [
  'you want to make sure there are no cracks on the exhaust',
  'we are looking for chafing on the left brake line',
  'the cowling should be secure',
  'if the cooling fan were loose you would hear it',
  'last week the trim tab was bent',
  'he said the boom skin is wrinkled',
  'next we will check the swashplate',
];

test('R2: talk appended never changes what counts (seed 3)', () => {
  fc.assert(
    fc.property(name, told, fc.constantFrom(...TALK), (n, s, talk) => {
      expect(counting(read(`${n} ${s}. ${talk}.`))).toEqual(counting(read(`${n} ${s}.`)));
    }),
    { seed: 3, numRuns: 150 },
  );
});

test('swapping left and right in the words swaps it in the statements (seed 5)', () => {
  const swap = (text: string): string =>
    text.replace(/left|right/g, (side) => (side === 'left' ? 'right' : 'left'));
  const sided = fc.constantFrom(
    'left brake line',
    'left skid tube',
    'left tyre',
    'left seat belt',
    'left pitch link',
    'left door',
  );
  fc.assert(
    fc.property(
      sided,
      fc.constantFrom('is good', 'is secure', 'has a crack', 'is loose'),
      (n, s) => {
        expect(read(swap(`${n} ${s}`)).map(summary)).toEqual(
          read(`${n} ${s}`).map(summary).map(swap),
        );
      },
    ),
    { seed: 5, numRuns: 60 },
  );
});

test('an utterance says the same alone and inside a long run-on (seed 7)', () => {
  fc.assert(
    fc.property(
      fc.array(fc.tuple(name, told), { minLength: 2, maxLength: 8 }),
      fc.constantFrom('. ', ', and '),
      (pairs, joint) => {
        const alone = pairs.flatMap(([n, s]) => read(`the ${n} ${s}`)).map(summary);
        const together = read(pairs.map(([n, s]) => `the ${n} ${s}`).join(joint)).map(summary);
        expect(together).toEqual(alone);
      },
    ),
    { seed: 7, numRuns: 120 },
  );
});

test('R3: "no X" never yields finding X (seed 9)', () => {
  const condition = fc.constantFrom(
    'cracks',
    'dents',
    'nicks',
    'chafing',
    'corrosion',
    'play',
    'leaks',
    'wrinkles',
    'rust',
    'scratches',
    'delamination',
  );
  const shape = fc.constantFrom(
    'no X on the N',
    'N no X',
    'the N has no X',
    'can not see any X on the N',
    'N: no X',
    'without any X on the N',
    'there is no X on the N',
  );
  fc.assert(
    fc.property(name, condition, shape, (n, c, form) => {
      const text = form.replace('X', c).replace('N', n);
      const found = read(text).some(
        (s) => s.kind === 'observation' && s.conditions.some((k) => k.present),
      );
      expect([text, found]).toEqual([text, false]);
    }),
    { seed: 9, numRuns: 250 },
  );
});

test('R5: a garbled word in the place of the verdict never becomes a clean "good" (seed 11)', () => {
  const garbled = fc.constantFrom('krakd', 'blorted', 'fnordly', 'zug', 'gragged', 'plimsy');
  fc.assert(
    fc.property(name, garbled, fc.boolean(), (n, g, behind) => {
      const made = read(behind ? `${n} good ${g}` : `${n} ${g}`);
      const good = made.filter(
        (k) =>
          k.kind === 'observation' &&
          k.verdict?.good === true &&
          k.doubtful === null &&
          // A finding read by sound ("krakd") is no clean verdict: it stands and is shown.
          k.conditions.every((c) => !c.present),
      );
      expect(good).toEqual([]);
    }),
    { seed: 11, numRuns: 100 },
  );
});

test('reading is pure: twice the same (seed 13)', () => {
  fc.assert(
    fc.property(name, told, (n, s) => {
      expect(read(`${n} ${s}`)).toEqual(read(`${n} ${s}`));
    }),
    { seed: 13, numRuns: 40 },
  );
});

test('random words in any order never throw (seed 17)', () => {
  const word = fc.constantFrom(
    'no',
    'not',
    'left',
    'the',
    'good',
    'crack',
    'two',
    'psi',
    'if',
    'sorry',
    'it',
    'same',
    'here',
    'all',
    'cowling',
    'brake',
    'line',
    'of',
    'six',
    'point',
    'but',
    'except',
    'zug',
    'tail',
    'boom',
    ',',
    '.',
    '?',
  );
  fc.assert(
    fc.property(fc.array(word, { maxLength: 30 }), (words) => {
      expect(Array.isArray(read(words.join(' ')))).toBe(true);
    }),
    { seed: 17, numRuns: 400 },
  );
});
