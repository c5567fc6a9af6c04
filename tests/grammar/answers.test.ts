import { expect, test } from 'vitest';
import { createGrammar } from '#grammar';
import type { Question } from '#shared/question';
import { FIRST_SCENE } from '#shared/scene';
import { FIXTURE, heard, pronunciations } from './fixtures/catalogue.ts';
import { summary } from './summary.ts';
import { testWeights } from '../weights.ts';

const grammar = createGrammar(FIXTURE, {
  pronunciations: pronunciations(),
  weights: testWeights(),
});

const place = (check: string, ...instances: string[]): Question['options'][number] => ({
  label: instances.length === 0 ? check.replaceAll('-', ' ') : instances.join(' and '),
  candidate: {
    check,
    instances: instances.length === 0 ? ['once'] : instances,
    score: 1,
    how: 'asked',
  },
});
const TYRES = [place('tyre', 'left'), place('tyre', 'right'), place('tyre', 'left', 'right')];
const RIVETS = [
  ...['1', '2', '3'].map((n) => place('rivet-lines', n)),
  place('rivet-lines', '1', '2', '3'),
];
const LINES = [place('left-brake-line'), place('right-brake-line')];

/** What an answer is read as, after something that was asked about. */
function read(
  before: string,
  kind: Question['kind'],
  options: Question['options'],
  say: string,
): string[] {
  const { scene } = grammar.read(heard(before, 'before'), FIRST_SCENE);
  const about = scene.lastId ?? '';
  const asked = { ...scene, question: { id: 'q', about, kind, text: '', options } };
  return grammar.read(heard(say, 'answer'), asked).statements.map(summary);
}

test.each([
  ['Quarts.', ['engine-oil · oil-quarts = 7 [qt_us] · amends · answers']],
  ['Quarts, US ones.', ['engine-oil · oil-quarts = 7 [qt_us] · amends · answers']],
  ["They're quarts.", ['engine-oil · oil-quarts = 7 [qt_us] · amends · answers']],
  ['In quarts.', ['engine-oil · oil-quarts = 7 [qt_us] · amends · answers']],
  ['No, six quarts.', ['engine-oil · oil-quarts = 6 [qt_us] · amends · answers']],
  ['Psi.', ['engine-oil · oil-quarts = 7 [psi] wrong-unit · amends · answers']],
  ["I don't know.", ['talk']],
  ['Not sure, sorry.', ['talk']],
])('R8: "%s" to "seven of what?"', (say, told) => {
  expect(read('Oil seven.', 'unit', [], say)).toEqual(told);
});

test.each([
  ['Port.', ['tyre[left] · low (pressure) · amends · answers']],
  ['The one on the right.', ['tyre[right] · low (pressure) · amends · answers']],
  ['Not the left, the right.', ['tyre[right] · low (pressure) · amends · answers']],
  [
    "Left, the right's fine.",
    ['tyre[left] · low (pressure) · amends · answers', 'tyre[right] · good (condition)'],
  ],
  ['Both.', ['tyre[all] · low (pressure) · amends · answers']],
  ["I couldn't say.", ['talk']],
  ['Right, exhaust secure.', ['exhaust · good (security)']],
  ['Neither.', ['not understood "Neither."']],
])('R5: "%s" to "left, right or both?"', (say, told) => {
  expect(read('Tyre flat.', 'which-instance', TYRES, say)).toEqual(told);
});

test.each([
  ['Two.', ['2']],
  ['Number three.', ['3']],
  ['One and three.', ['1, 3']],
  ['The last one.', ['3']],
  ['The first two.', ['1, 2']],
  ['The first three.', null],
  ['Four.', null],
  ['Two of them, I think.', null],
])('R5: "%s" to "which rivet line?" is %j', (say, places) => {
  const [told = ''] = read('Rivet line dented.', 'which-instance', RIVETS, say);
  if (places === null) expect(told).not.toContain('answers');
  else expect(told).toBe(`rivet-lines[${places[0] ?? ''}] · dent (condition) · amends · answers`);
});

test.each([
  ['The left.', 'left-brake-line'],
  ['The latter.', 'right-brake-line'],
  ['The other one.', null],
])('R5: "%s" to "left or right brake line?" picks %s', (say, check) => {
  const got = read('Brake line cracked.', 'which-check', LINES, say).join();
  if (check === null) expect(got).not.toContain('answers');
  else expect(got).toMatch(new RegExp(`^${check} .*amends . answers$`));
});

test('R8: a verdict is no unit, and leaves the question open', () => {
  expect(read('Oil seven.', 'unit', [], 'Lovely.').join()).not.toContain('answers');
});
