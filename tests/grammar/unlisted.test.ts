import { expect, test } from 'vitest';
import { createGrammar } from '#grammar';
import { FIRST_SCENE } from '#shared/scene';
import { testWeights } from '../weights.ts';
import { FIXTURE, heard, pronunciations } from './fixtures/catalogue.ts';

/* R4: what happened to the aircraft is never lost, also where its catalogue has no sign for it. Found
   by use: "we had a bird strike" was taken for small talk. */
const grammar = createGrammar(FIXTURE, {
  pronunciations: pronunciations(),
  weights: testWeights(),
});
const happened = (words: string): string[] =>
  grammar.read(heard(words), FIRST_SCENE).statements.flatMap((s) => {
    if (s.kind !== 'observation' || s.force !== 'result' || s.about.kind !== 'unplaced') return [];
    const { part } = s.about;
    // It is told in the pilot's words, and of no part.
    return s.conditions.map((c) => (part === c.span.words ? part : `${c.span.words} of ${part}`));
  });

test.each([
  ['We had a bird strike on the way in.', 'bird strike'],
  ['we took a lightning strike yesterday', 'lightning strike'],
  ['Lightning struck us on Tuesday.', 'Lightning struck us'],
  ['by the way we hit a bird on final', 'hit a bird'],
  ['there was an overtorque on the last flight', 'overtorque'],
  ['we had a bird strike on the left door', 'bird strike'],
  ['um, she had a bit of a tail strike', 'tail strike'],
])('R4: "%s" is kept, of no check', (words, event) => {
  expect(happened(words)).toEqual([event]);
});

test.each([
  'no bird strike on this one',
  'we did not hit a bird',
  'if you have a bird strike you tell me',
  'have you ever had a bird strike?',
  'bird strikes are rare here',
  'we had a bird strike once, years ago',
  'the other aircraft had a bird strike',
  'after a lightning strike you degauss the compass',
])('R2: "%s" tells of nothing that happened to this one', (words) => {
  expect(happened(words)).toEqual([]);
});
