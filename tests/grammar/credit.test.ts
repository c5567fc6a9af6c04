import { describe, expect, test } from 'vitest';
import { createGrammar } from '#grammar';
import { FIRST_SCENE } from '#shared/scene';
import type { Check } from '#shared/catalogue';
import type { Which } from '#shared/statement';
import type { Member } from '../../grammar/matches/roster.ts';
import { rosterOf } from '../../grammar/matches/roster.ts';
import { creditOf } from '../../grammar/readings/credit.ts';
import type { Scored } from '../../grammar/scores/scored.ts';
import { testWeights } from '../weights.ts';
import { FIXTURE, heard, pronunciations } from './fixtures/catalogue.ts';

const check = {
  id: 'strap',
  aspects: [{ id: 'condition' }, { id: 'lock' }],
} as unknown as Check;
const place = { instances: ['left', 'right'] } as unknown as Member;
/** Named whole, and nothing else is. */
const member = { member: place, features: [1, 1, 0, 0, 1, 0, 0] };
const named: Which = { how: 'named', instances: ['left'] };

/** Scores with these shares of the aspects and of the left place being meant. */
const scored = (aspects: readonly number[], left: number, one = 0): Scored =>
  ({
    aspects,
    which: [1 - one, one, 0],
    places: [
      { meant: left, good: left, finding: 0 },
      { meant: 0, good: 0, finding: 0 },
    ],
  }) as unknown as Scored;

describe('13: what a good speaks for has to be right as a whole (R1)', () => {
  test('aspects that are sure at places that are sure', () => {
    const credit = creditOf(member, check, scored([0.95, 0.2], 0.98), 0.97, named, null, false);
    expect(credit).toEqual({ aspects: ['condition'], counts: true });
  });

  test('a guess at the place holds back a verdict that is plain, and a guess at the verdict a plain place', () => {
    expect(creditOf(member, check, scored([0.99, 0], 0.75), 0.99, named, null, false).counts).toBe(
      false,
    );
    expect(creditOf(member, check, scored([0.99, 0], 0.99), 0.75, named, null, false).counts).toBe(
      false,
    );
  });

  test('where two fit the words as well, or it is hardly named, it has to be surer (R5)', () => {
    const of = (features: readonly number[]): boolean =>
      creditOf({ member: place, features }, check, scored([0.99, 0], 0.99), 0.9, named, null, false)
        .counts;
    expect(of([1, 1, 0, 0, 1, 0, 0])).toBe(true);
    expect(of([1, 1, 0, 0, 0, 1, 0])).toBe(false);
    expect(of([0.5, 0, 0, 0, 1, 0, 0])).toBe(false);
    // Named in the utterance before it.
    expect(of([0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0, 1])).toBe(true);
  });

  test('"one of them" is as sure as that one is meant', () => {
    const one: Which = { how: 'one', instances: ['left'] };
    expect(
      creditOf(member, check, scored([0.99, 0], 0.99, 0.3), 0.99, one, null, false).counts,
    ).toBe(false);
    expect(creditOf(member, check, scored([0.99, 0], 0, 0.95), 0.99, one, null, false).counts).toBe(
      true,
    );
  });

  test('an aspect without a word beside one that has its own counts only when it is very sure', () => {
    const only = new Set([1]);
    expect(
      creditOf(member, check, scored([0.95, 0.97], 0.99), 0.99, named, only, false).aspects,
    ).toEqual(['lock']);
    expect(
      creditOf(member, check, scored([0.99, 0.97], 0.99), 0.99, named, only, false).aspects,
    ).toEqual(['condition', 'lock']);
  });

  test('a check without aspects counts as a whole', () => {
    const plain = { ...check, aspects: [] };
    expect(creditOf(member, plain, scored([], 0.98), 0.95, named, null, false)).toEqual({
      aspects: [],
      counts: true,
    });
  });
});

const grammar = createGrammar(FIXTURE, {
  pronunciations: pronunciations(),
  weights: testWeights(),
});
const countsGood = (words: string): boolean =>
  grammar
    .read(heard(words), FIRST_SCENE)
    .statements.some(
      (s) =>
        s.kind === 'observation' &&
        s.force === 'result' &&
        s.doubtful === null &&
        (s.verdict?.good === true || s.conditions.some((c) => !c.present)),
    );

describe('13: words that condemn are never good (R1), and praise that sounds like a fault is none', () => {
  test.each([
    'exhaust no good',
    'exhaust is dead',
    'the exhaust is on its way out',
    'exhaust is not long for this world',
    'the exhaust is a no go',
  ])('"%s"', (words) => expect(countsGood(words)).toBe(false));

  test.each(['exhaust in good nick', 'exhaust tick', 'exhaust up to scratch'])(
    '"%s" has no fault',
    (words) => {
      const { statements } = grammar.read(heard(words), FIRST_SCENE);
      expect(
        statements.filter(
          (s) =>
            s.kind === 'observation' &&
            s.doubtful === null &&
            (s.verdict?.good === false || s.conditions.some((c) => c.present)),
        ),
      ).toEqual([]);
    },
  );
});

test('15: a station named behind a fault is where the walk goes on, and no detail of the fault', () => {
  const station = rosterOf(FIXTURE).stations.at(-1)?.name ?? '';
  const { scene } = grammar.read(heard('exhaust is cracked'), FIRST_SCENE);
  const { statements } = grammar.read({ ...heard(station), id: 'h2' }, scene);
  expect(statements.filter((s) => s.kind === 'observation' && s.amends !== null)).toEqual([]);
});
