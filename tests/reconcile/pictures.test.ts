import { expect, test } from 'vitest';
import { fold } from '#reconcile';
import * as n from './notation.ts';

const { said, good, has } = n;

/** Issue 16: a picture of a statement stands at the finding that the statement belongs to. */
const picture = (id: string, number: number): n.Line => ({
  kind: 'picture-kept',
  picture: id,
  mime: 'image/jpeg',
  hash: 'a'.repeat(64),
  width: 4,
  height: 3,
  of: { kind: 'finding', statement: n.s(number) },
});

const folded = (...lines: n.Line[]) => fold(n.AIRCRAFT, n.walk(n.begun(), ...lines));

test('R4 it stands at the finding of its statement, and changes nothing else', () => {
  const lines = [said('fan', has('crack')), said('skin', good())];
  const plain = folded(...lines);
  const drawn = folded(...lines, picture('p1', 1), picture('p2', 1));
  expect(drawn.findings.map((f) => f.pictures?.map((p) => p.picture))).toEqual([['p1', 'p2']]);
  expect(drawn.findings.map((f) => ({ ...f, pictures: undefined }))).toEqual(plain.findings);
  expect(drawn.checks).toEqual(plain.checks);
  expect(drawn.open).toEqual(plain.open);
});

test('one of a statement that is not there is named among the oddities, and never lost in silence', () => {
  const coverage = folded(said('fan', has('crack')), picture('p1', 9));
  expect(coverage.findings[0]?.pictures).toBeUndefined();
  expect(coverage.oddities.map((o) => o.text)).toEqual([
    'A picture is of a statement that this walk does not have; it is kept.',
  ]);
});

test('one of a squawk is no part of a walk', () => {
  const of = { kind: 'squawk', squawk: 'q' } as const;
  const other = { ...picture('p1', 1), of } as n.Line;
  expect(folded(said('fan', has('crack')), other).oddities).toEqual([]);
});
