import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { Catalogue } from '#shared/catalogue';
import { rosterOf } from '../../grammar/matches/roster.ts';
import { pairedOf } from '../../grammar/readings/paired.ts';
import { groupAt } from '../../grammar/readings/which.ts';
import type { Decision } from '../../grammar/decide.ts';
import type { CandidateInput } from '../../grammar/scores/around.ts';
import type { Scored } from '../../grammar/scores/scored.ts';
import { tokensOf } from '../../grammar/tokens.ts';

const catalogue = Catalogue.parse(
  parse(`
v: 1
id: invented
name: Invented
kind: aeroplane
notice: Invented.
source: common practice, no source
gauges:
  - { id: bilge, name: Water, steps: [{ name: dry }, { name: damp }, { name: a cupful, say: [cupful] }] }
stations:
  - id: gear
    name: Gear
    place: { x: 1, y: 1 }
    checks:
      - id: tyres
        name: tyre
        repeat: { of: [left, right], plural: false }
        measures: [{ id: psi, name: pressure, unit: '[psi]', low: 15, high: 30 }]
      - id: bilges
        name: bilge
        repeat: { of: 4, plural: false }
        measures: [{ id: water, name: water, gauge: bilge }]
`),
);
const roster = rosterOf(catalogue);

/** The pairs of one sentence, as `place=value unit`. */
function said(key: string, text: string): string[] {
  const member = roster.byKey.get(key);
  if (member === undefined) throw new Error(`No check ${key}.`);
  const { tokens, raw } = tokensOf({ text, words: [] });
  const numbers = ['', 'one', 'two', 'three', 'four'];
  const placeAt = member.instances.map((place) =>
    tokens.flatMap((t, i) => (t.word === place || t.word === numbers[Number(place)] ? [i] : [])),
  );
  const input = { placeAt } as unknown as CandidateInput;
  return pairedOf({ tokens, raw }, member, input, catalogue).map(
    ({ places, values }) =>
      `${places.join('+')}=${values.map((v) => v.step?.name ?? `${String(v.low)} ${v.unit ?? '?'}${v.supplied === true ? ' supplied' : ''}`).join('/')}`,
  );
}

describe('values of several places in one breath', () => {
  test.each([
    ['left nineteen psi right sixteen psi', ['left=19 [psi]', 'right=16 [psi]']],
    // A unit said once is carried, and marked so (R8).
    [
      'left nineteen psi, right tyre I make it sixteen',
      ['left=19 [psi]', 'right=16 [psi] supplied'],
    ],
    ['nineteen psi left, sixteen psi right', ['left=19 [psi]', 'right=16 [psi]']],
  ])('%s', (text, due) => {
    expect(said('tyres', text)).toEqual(due);
  });

  test.each([
    ['one dry, two dry, three damp, four dry', ['1=dry', '2=dry', '3=damp', '4=dry']],
    ['one two three dry, four a cupful', ['1+2+3=dry', '4=a cupful']],
  ])('%s', (text, due) => {
    expect(said('bilges', text)).toEqual(due);
  });

  test.each([
    ['tyres', 'left and right nineteen psi'],
    ['tyres', 'both nineteen psi'],
    ['tyres', 'left nineteen psi, no, left sixteen psi'],
    ['bilges', 'all four dry'],
  ])('are none where they are not told apart: %s, %s', (key, text) => {
    expect(said(key, text)).toEqual([]);
  });
});

test('R4: a fault is never lost between the places that have values, wherever the scores see it', () => {
  const member = roster.byKey.get('bilges');
  if (member === undefined) throw new Error('No bilges.');
  // Seen most at the fourth, of which nothing was measured in this breath.
  const places = [0.1, 0.6, 0.2, 0.9].map((finding) => ({ finding }));
  const scored = { places } as unknown as Scored;
  const decision = { good: 'no', finding: 'counts' } as Decision;
  const among = ['1', '2', '3'];
  const found = among.filter(
    (p) => groupAt(member, scored, decision, [p], among).finding === 'counts',
  );
  expect(found).toEqual(['2']);
});
