import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { Catalogue } from '#shared/catalogue';
import { FIRST_TALK, SAID, type Talk } from '#shared/talk';
import { Matcher } from '../../grammar/matches/matches.ts';
import { Signs } from '../../grammar/matches/heardas.ts';
import { rosterOf } from '../../grammar/matches/roster.ts';
import { InputMaker } from '../../grammar/scores/inputs.ts';
import { sideRow } from '../../grammar/scores/trail.ts';
import { earOf } from '../../grammar/sound/ear.ts';
import { ownPronunciations } from '../../grammar/sound/own.ts';
import { tokensOf } from '../../grammar/tokens.ts';
import { testWeights } from '../weights.ts';
import { pronunciations } from './fixtures/catalogue.ts';

const catalogue = Catalogue.parse(
  parse(`
v: 1
id: invented
name: Invented
kind: aeroplane
notice: Invented.
source: common practice, no source
stations:
  - id: wings
    name: Wings
    place: { x: 1, y: 1 }
    checks:
      - { id: left-strut, name: left strut }
      - { id: left-tip, name: left tip }
      - { id: right-strut, name: right strut }
      - { id: right-tip, name: right tip }
      - { id: mounts, name: mount, repeat: { of: 4, plural: false } }
      - { id: tyres, name: tyre, repeat: { of: [left, right], plural: false } }
`),
);
const roster = rosterOf(catalogue);
const maker = new InputMaker(
  roster,
  new Matcher(roster, earOf(pronunciations(), ownPronunciations(catalogue)), testWeights().vectors),
  new Signs(catalogue),
);

/** What is seen of an utterance behind others, each with what was made of it. */
function seen(before: readonly (readonly [string, readonly string[]])[], text: string) {
  const turns = before.map(([said, keys], i): Talk['turns'][number] => ({
    heard: String(i),
    text: said,
    said: Object.fromEntries(
      keys.map((key) => [key, { what: SAID.result | SAID.good, places: [] }]),
    ),
  }));
  const ever = Object.fromEntries(before.flatMap(([, keys]) => keys.map((k) => [k, SAID.result])));
  const { tokens } = tokensOf({ text, words: [] });
  const inputs = maker.make(
    text,
    tokens,
    { ...FIRST_TALK, turns, ever, belief: [1] },
    [1],
    {},
    null,
  );
  const of = (key: string) => {
    const found = inputs.candidates.find((c) => c.member?.key === key);
    if (found === undefined) throw new Error(`${key} is no candidate of "${text}".`);
    return found;
  };
  return { features: (key: string) => of(key).features, places: (key: string) => of(key).places };
}

/** Where the trail's thirteen stand in a candidate's features: before the last 21. */
const trailOf = (features: readonly number[]): readonly number[] =>
  features.slice(features.length - 34, features.length - 21);

describe('the side that the talk is on', () => {
  test('a side said before speaks for what is on it, and against its twin', () => {
    const { features } = seen([['now the right side', []]], 'strut good');
    expect(trailOf(features('right-strut')).slice(0, 2)).toEqual([1, 0]);
    expect(trailOf(features('left-strut')).slice(0, 2)).toEqual([0, 1]);
  });

  test('the side of what was reported on last speaks as well, behind words without a side', () => {
    const { features } = seen(
      [
        ['left strut good', ['left-strut']],
        ['right tip good', ['right-tip']],
        ['nice morning', []],
      ],
      'strut good',
    );
    expect(trailOf(features('right-strut')).slice(2, 4)).toEqual([1, 0]);
    expect(trailOf(features('left-strut')).slice(2, 4)).toEqual([0, 1]);
  });

  test('a twin that has its result is known, and the next check of the station', () => {
    const { features } = seen(
      [
        ['left strut good', ['left-strut']],
        ['left tip good', ['left-tip']],
      ],
      'strut good',
    );
    expect(trailOf(features('right-strut')).slice(4)).toEqual([1, 1, 0, 0, 1, 0, 0, 0, 1]);
    expect(trailOf(features('left-strut')).slice(4)).toEqual([1, 0, 0, 0, 0, 0, 1, 0, 0]);
  });

  test('the side said before stands where credit.ts looks for it', () => {
    const features = seen([['now the right side', []]], 'strut good').features('right-strut');
    expect(features[58]).toBe(1);
    expect(seen([], 'right strut good').features('right-strut')[30]).toBe(1);
  });

  test('nothing speaks for a side where none was said', () => {
    const { features } = seen([], 'strut good');
    expect(trailOf(features('right-strut')).slice(0, 4)).toEqual([0, 0, 0, 0]);
  });

  test('a side is for itself, against its opposite, and nothing to the rest', () => {
    expect(sideRow('left', new Set(['left', 'tip']))).toEqual([1, 0]);
    expect(sideRow('left', new Set(['right']))).toEqual([0, 1]);
    expect(sideRow('left', new Set(['red']))).toEqual([0, 0]);
    expect(sideRow(null, new Set(['left']))).toEqual([0, 0]);
  });
});

describe('rows of places', () => {
  /** The last but one number of each place. */
  const inRow = (text: string): number[] =>
    seen([], text)
      .places('mounts')
      .map((row) => row.at(-2) ?? -1);

  test.each([
    ['mounts, the first three are tight', [1, 1, 1, 0]],
    ['mounts, the last two are tight', [0, 0, 1, 1]],
    ['mounts two to four tight', [0, 1, 1, 1]],
    ['mounts one through three tight', [1, 1, 1, 0]],
    ['mounts one and three tight', [0, 0, 0, 0]],
    ['the first mount is tight', [0, 0, 0, 0]],
  ])('%s', (text, due) => {
    expect(inRow(text)).toEqual(due);
  });
});
