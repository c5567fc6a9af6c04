import { expect, test } from 'vitest';
import { parseCatalogue } from '#catalogue';
import { starters } from '#seeds';
import { unknownConditions } from '../../grammar/unknown.ts';
import { bent } from '../catalogue/small.ts';

/* Issue 18: a chief who writes a word for a condition is told when nobody listens for it. */

function told(...pieces: readonly [string, string][]): string[] {
  const text = pieces.reduce((t, [piece, by]) => t.replace(piece, by), bent('v: 1', 'v: 1'));
  const parsed = parseCatalogue(text, 'a');
  if (!parsed.ok) throw new Error(parsed.problems[0]?.text);
  return unknownConditions(parsed.catalogue).map((u) => `${u.path}: ${u.text}`);
}

test('issue 18: of a sign of the catalogue, of a check alone, and of an aspect', () => {
  expect(
    told(
      ['severity: ground', 'conditions: [crack, leaking]'],
      ['signs: [crack]', 'signs: [crack, { id: w, name: Wobble, conditions: [wobbling-about] }]'],
      ['[condition, slack]', '[condition, { name: slack, conditions: [floppy-ish, loose] }]'],
    ),
  ).toEqual([
    'signs.crack: the sign "Crack" goes by "leaking", which is no condition that is known; "leak" is said so.',
    'stations.engine.checks.belts: the aspect "slack" goes by "floppy-ish", which is no condition that is known: write the word among its other names instead.',
    'stations.engine.checks.belts: the sign "Wobble" goes by "wobbling-about", which is no condition that is known: write the word among its other names instead.',
  ]);
});

test.each(starters().map((s) => [s.catalogue.id, s.catalogue] as const))(
  'issue 18: %s names none',
  (_id, catalogue) => {
    expect(unknownConditions(catalogue)).toEqual([]);
  },
);
