import { describe, expect, test } from 'vitest';
import { Kin } from '../../grammar/matches/kin.ts';
import { rosterOf } from '../../grammar/matches/roster.ts';
import { senses } from '../../grammar/matches/senses.ts';
import { tokensOf } from '../../grammar/tokens.ts';
import { lexicon } from '../../grammar/lexicon.ts';
import { FIXTURE } from './fixtures/catalogue.ts';

/* What people call a part is a hint of it and never its name (issue 13). */

const roster = rosterOf(FIXTURE);
const kin = new Kin(roster);
const tokens = (text: string) => tokensOf({ text, words: [] }).tokens;
const meant = (text: string): string[] => [
  ...new Set(kin.of(tokens(text)).map((hit) => roster.members[hit.member]?.key ?? '')),
];

describe('words of people for a part of this aircraft', () => {
  test.each([
    ['the chimney is tight', 'exhaust'],
    ['smokestack, no cracks', 'exhaust'],
    ['and the tin hat over the engine', 'cowling'],
    ['shoe on the left is worn', 'tyre'],
  ])('"%s" may mean the %s', (text, check) => expect(meant(text)).toContain(check));

  test.each(['what a lovely day', 'exhaust good', 'thank you very much'])(
    '"%s" hints at nothing',
    (text) => expect(meant(text)).toEqual([]),
  );

  test('a hint stands at its own words, and is less than a name', () => {
    const hits = kin.of(tokens('well the chimney is tight'));
    expect(hits.map(({ from, to }) => [from, to])).toContainEqual([2, 3]);
    for (const { like } of hits) expect(like).toBeLessThan(1);
  });
});

test('every thing has names and words, and no word of people stands twice at one', () => {
  for (const { names, said } of lexicon().parts) {
    expect(names.length).toBeGreaterThan(0);
    expect(said.length).toBeGreaterThan(0);
    expect(new Set(said).size).toBe(said.length);
  }
});

test('a loose phrase is a cue of its own kind and no condition that a rule takes', () => {
  const { names } = senses();
  const kinds = senses()
    .of(tokens('it grumbles'))
    .flat()
    .map((k) => names[k]);
  expect(kinds).toContain('loose-noisy');
  const ids = new Set(lexicon().conditions.map((c) => c.id));
  for (const id of Object.keys(lexicon().loose.conditions)) expect(ids.has(id), id).toBe(true);
});
