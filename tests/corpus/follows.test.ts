import { expect, test } from 'vitest';
import { random } from '../bench/channel.ts';
import {
  followsOf,
  followWriters,
  labelsOfFollow,
  parseFollows,
  placedFollows,
} from './follows.ts';
import { ownWalks } from './walks.ts';

const catalogues = [
  ...new Map(ownWalks('tune').map((w) => [w.catalogueKey, w.catalogue] as const)).values(),
];

test('every file of what is said next is read, and is of one part', () => {
  const writers = (['learn', 'tune', 'sealed'] as const).flatMap(followWriters);
  expect(new Set(writers).size).toBe(writers.length);
  for (const writer of writers) expect(followsOf(writer).length).toBeGreaterThan(350);
});

test.each([
  [
    '+crack > R maybe | {N} is cracked // no',
    'x.txt, line 1: "R maybe" is nothing that is said next.',
  ],
  ['+shiny > M | {N} shines // a lot', 'x.txt, line 1: "+shiny" is nothing that is said first.'],
  ['G > R ground | {N} is fine // grounded', 'x.txt, line 1: "R ground" wants a fault before it.'],
  ['G > G | the fan is fine // yes', 'x.txt, line 1: no {N} says where the name stands.'],
  ['G > G | {N} is fine', 'x.txt, line 1: nothing follows.'],
  ['G @ground | {N} is fine', 'x.txt, line 1: "G @ground" rates no fault.'],
  ['{N} is fine', 'x.txt, line 1: it is not "KIND | text".'],
])('"%s" is refused: %s', (text, message) => {
  expect(() => parseFollows(text, 'x.txt')).toThrow(message);
});

test.each([
  ['+crack > R defer | {N} is cracked // it can wait', false, ['fan +crack', 'rating defer']],
  ['+crack > R defer | {N} is cracked // it can wait', true, ['fan +crack', 'fan @defer']],
  ['+crack @ground | {N} is cracked, no flying', false, ['fan +crack @ground']],
  ['+crack > M | {N} is cracked // an inch', false, ['fan +crack', 'fan +crack']],
  ['+crack > G | {N} is cracked // no, a cobweb', false, ['fan +crack', 'fan good amends']],
  ['N > G | {N} // mind the step // fine', false, ['', '', 'fan good']],
])('"%s" (%s) is labelled %j', (line, bare, labels) => {
  const [follow] = parseFollows(line, 'x.txt');
  expect(follow && labelsOfFollow(follow, 'fan', bare)).toEqual(labels);
});

test('property, seed 3: each is said so often, with a name in the gap, and equal draws place equally', () => {
  const follows = parseFollows(
    'G > G | {N} is fine // really\nB @note | {N} is odd, jot it',
    'x.txt',
  );
  const placed = placedFollows(follows, catalogues, 4, random(3));
  const said = placed.flatMap((set) => set.said);
  expect(said).toHaveLength(8);
  expect(said.flatMap((s) => s.lines.map((l) => l.say)).join(' ')).not.toContain('{N}');
  expect(said.every((s) => s.lines.every((l) => l.labels.length === 1))).toBe(true);
  expect(placedFollows(follows, catalogues, 4, random(3))).toEqual(placed);
});
