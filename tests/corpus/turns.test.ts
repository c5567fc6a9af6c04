import { expect, test } from 'vitest';
import { instancesOf } from '#shared/catalogue';
import { random } from '../bench/channel.ts';
import { calledIn, labelOf, parseTurns, placedTurns, turnsOf, turnWriters } from './turns.ts';
import { ownWalks } from './walks.ts';

const catalogues = [
  ...new Map(ownWalks('tune').map((w) => [w.catalogueKey, w.catalogue] as const)).values(),
];

test('every file of turns is read, and is of one part', () => {
  const writers = (['learn', 'tune', 'sealed'] as const).flatMap(turnWriters);
  expect(new Set(writers).size).toBe(writers.length);
  for (const writer of writers) expect(turnsOf(writer).length).toBeGreaterThan(250);
});

test.each([
  ['good | the {N} is fine', 'x.txt, line 1: "good" is no kind of turn.'],
  ['G | {N} fine\n+shiny | {N} shines', 'x.txt, line 2: "+shiny" is no kind of turn.'],
  ['T gossip | he says {N}', 'x.txt, line 1: "T gossip" is no kind of turn.'],
  ['G | the exhaust is fine', 'x.txt, line 1: no {N} says where the name stands.'],
  ['the {N} is fine', 'x.txt, line 1: it is not "KIND | text".'],
])('"%s" is refused: %s', (text, message) => {
  expect(() => parseTurns(text, 'x.txt')).toThrow(message);
});

test.each([
  ['G', 'fan good'],
  ['B', 'fan bad'],
  ['+crack', 'fan +crack'],
  ['-crack', 'fan -crack'],
  ['?', 'fan ?'],
  ['T past', 'past fan'],
  ['N', ''],
])('a turn of kind "%s" is labelled "%s"', (kind, label) => {
  expect(labelOf(kind, 'fan')).toBe(label);
});

test('property, seed 3: what a part is called names one check alone, at a place that it has', () => {
  for (const catalogue of catalogues)
    for (const { name, check, target } of calledIn(catalogue)) {
      const others = catalogue.stations.flatMap((s) =>
        s.checks.filter((c) => c !== check).flatMap((c) => [c.name, ...c.say]),
      );
      expect(others.map((o) => o.toLowerCase())).not.toContain(name);
      const place = /\((.*)\)$/.exec(target)?.[1];
      if (place !== undefined) expect(instancesOf(check)).toContain(place);
    }
});

test('property, seed 3: turns are said so often, with a name in the gap, and equal draws place equally', () => {
  const turns = parseTurns('G | the {N} is fine\n+crack | {N} // oh, a crack', 'x.txt');
  const placed = placedTurns(turns, catalogues, 4, random(3));
  const said = placed.flatMap((set) => set.utterances);
  expect(said).toHaveLength(8);
  expect(said.flatMap((u) => [...u.after, u.say]).join(' ')).not.toContain('{N}');
  expect(said.filter((u) => u.is.endsWith('+crack'))).toHaveLength(4);
  expect(placedTurns(turns, catalogues, 4, random(3))).toEqual(placed);
});
