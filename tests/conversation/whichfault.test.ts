import { expect, test } from 'vitest';
import type { Question } from '#shared/question';
import { FIRST_SCENE, type Scene } from '#shared/scene';
import { FIRST_TALK } from '#shared/talk';
import type { Observation } from '#shared/statement';
import { happeningsOf } from '../../src/record/drafts.ts';
import { emptyBook } from '../../src/record/book.ts';
import { starters } from '../bench/reader/prose.ts';
import { heardOf, ourReader } from '../bench/grammar/ours.ts';
import * as n from '../reconcile/notation.ts';

/* R5: words that may be a fault at several checks are one fault, asked about in one go. */

const doubt = (check: string, id: string): Observation =>
  ({ ...n.said(check, n.has('crack'), n.doubtful), id, heard: 'h' }) as Observation;

function asked(of: readonly Observation[]): readonly Question[] {
  const made = happeningsOf({ statements: of, scene: FIRST_SCENE }, emptyBook(), n.AIRCRAFT);
  return made.flatMap((h) => (h.kind === 'asked' ? [h.question] : []));
}

test('R5 one utterance with two doubts asks once, and says both names', () => {
  const questions = asked([doubt('fan', 'a'), doubt('belts', 'b')]);
  expect(questions.map((q) => q.kind)).toEqual(['which-fault']);
  expect(questions[0]?.text).toMatch(/^Something wrong: .*fan.* or .*belts.*, or none of them\?$/i);
  expect(questions[0]?.items?.map((i) => i.statement)).toEqual(['a', 'b']);
  // A miss: one doubt, and two about one check, are asked about as before.
  expect(asked([doubt('fan', 'a')]).map((q) => q.kind)).toEqual(['polarity']);
});

const CATALOGUE = starters().find((c) => c.id === 'training-helicopter') ?? n.AIRCRAFT;
const TOLD = [doubt('cooling-fan', 'a'), doubt('drive-belts', 'b')];
const QUESTION: Question = {
  id: 'a/which-fault',
  about: 'a',
  kind: 'which-fault',
  text: 'Something wrong: cooling fan or drive belts, or none of them?',
  items: [
    { statement: 'a', label: 'cooling fan' },
    { statement: 'b', label: 'drive belts' },
  ],
  options: ['cooling fan', 'drive belts', 'none of them'].map((label) => ({
    label,
    candidate: null,
  })),
};
const SCENE: Scene = {
  ...FIRST_SCENE,
  question: QUESTION,
  talk: { ...FIRST_TALK, told: TOLD },
};

test.each([
  ['cooling fan', ['a'], ['b']],
  ['the fan', ['a'], ['b']],
  ['the second one', ['b'], ['a']],
  ['the fan and the belts', ['a', 'b'], []],
  ['both', ['a', 'b'], []],
  ['none of them', [], ['a', 'b']],
  ['neither', [], ['a', 'b']],
])('the words offered are taken, in part, by order, and "%s"', (words, faults, gone) => {
  const { statements } = ourReader(CATALOGUE).read(heardOf(words, 'x'), SCENE);
  expect(
    statements.flatMap((s) => (s.kind === 'observation' && s.doubtful === null ? [s.amends] : [])),
  ).toEqual(faults);
  expect(statements.flatMap((s) => (s.kind === 'retraction' ? [s.of] : []))).toEqual(gone);
});

test.each(['yes', 'I do not know', 'the left skid tube is good'])(
  'R5 a miss: "%s" picks none of them, and takes none back',
  (words) => {
    const { statements } = ourReader(CATALOGUE).read(heardOf(words, 'x'), SCENE);
    expect(statements.some((s) => s.kind === 'retraction')).toBe(false);
    expect(statements.some((s) => s.kind === 'observation' && s.amends !== null)).toBe(false);
  },
);
