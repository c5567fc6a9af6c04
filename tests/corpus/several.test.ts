import { expect, test } from 'vitest';
import { random } from '../bench/channel.ts';
import {
  alikeIn,
  labelsOfSeveral,
  parseSeveral,
  placedSeveral,
  saidOf,
  severalOf,
  severalWriters,
  type Alike,
} from './several.ts';
import { ownWalks } from './walks.ts';

const catalogues = [
  ...new Map(ownWalks('tune').map((w) => [w.catalogueKey, w.catalogue] as const)).values(),
];

test('every file of turns about several is read, and is of one part', () => {
  const writers = (['learn', 'tune', 'sealed'] as const).flatMap(severalWriters);
  expect(new Set(writers).size).toBe(writers.length);
  for (const writer of writers) expect(severalOf(writer).length).toBeGreaterThan(150);
});

test.each([
  ['the {P} are fine', 'x.txt, line 1: it is not "KINDS | text".'],
  ['ALL=G | they are fine', 'x.txt, line 1: no {P} or {N} says where the name stands.'],
  ['G | {P} fine', 'x.txt, line 1: "G" does not say of which of them.'],
  ['A=G | {P} fine', 'x.txt, line 1: {A} is not in the text.'],
  ['ALL=+shiny | {P} shine', 'x.txt, line 1: "+shiny" is no way for them to be.'],
  ['T gossip | they say {P}', 'x.txt, line 1: "T gossip" is no kind of turn.'],
])('"%s" is refused: %s', (text, message) => {
  expect(() => parseSeveral(text, 'x.txt')).toThrow(message);
});

/** Parts alike of a learned or tuned catalogue with so many places. */
function alikeOf(size: number, numbered: boolean): Alike {
  const found = catalogues
    .flatMap(alikeIn)
    .find((a) => a.places.length === size && /^\d/.test(a.places[0] ?? '') === numbered);
  if (found === undefined) throw new Error(`No catalogue has ${String(size)} parts alike.`);
  return found;
}

test('places, their number and the plural stand in the gaps, and the rest is counted', () => {
  const [turn] = parseSeveral(
    '3 A=+loose REST=G | {A} {N} is loose, all {ALL} {P} but it good',
    'x',
  );
  if (turn === undefined) throw new Error('Nothing was read.');
  const four = alikeOf(4, true);
  expect(saidOf(turn.say[0] ?? '', four, ['2'])).toBe(
    `${four.one} two is loose, all four ${four.many} but it good`,
  );
  expect(labelsOfSeveral(turn, four, ['2'])).toBe(
    `${four.check.id}(2) +loose; ${four.check.id}(1,3,4) good`,
  );
  const two = alikeOf(2, false);
  expect(saidOf('{BOTH} {P}, the {A} one as well', two, [two.places[1] ?? ''])).toBe(
    `both ${two.many}, the ${two.places[1] ?? ''} one as well`,
  );
});

test('property, seed 4: what is placed names places that the check has, and equal draws place equally', () => {
  const turns = parseSeveral(
    '2 ALL=G | {BOTH} {P} fine\nA=G Z=+crack | {A} {N} good, {Z} cracked\nONE=B | one of the {P}\nN | {P}!',
    'x',
  );
  const placed = placedSeveral(turns, catalogues, 5, random(4));
  const said = placed.flatMap((set) => set.utterances);
  expect(said).toHaveLength(20);
  expect(said.map((u) => u.say).join(' ')).not.toMatch(/[{}]/);
  expect(said.filter((u) => u.labels.length === 2)).toHaveLength(5);
  expect(placedSeveral(turns, catalogues, 5, random(4))).toEqual(placed);
});
