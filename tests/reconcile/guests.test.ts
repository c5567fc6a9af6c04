import { expect, test } from 'vitest';
import { fold } from '#reconcile';
import type { Event } from '#shared/event';
import * as n from './notation.ts';

const { said, good, has } = n;

/** A walk of device "d" in which lines marked with "b" are of a second one that was let in. */
type Row = readonly ['a' | 'b', n.Line];
function two(...lines: readonly Row[]): readonly Event[] {
  const events = n.walk(n.begun(), ...lines.map(([, line]) => line));
  return events.map((e, i) => (lines[i - 1]?.[0] === 'b' ? { ...e, device: 'b' } : e));
}
const folded = (...lines: readonly Row[]) => fold(n.AIRCRAFT, two(...lines));
const sees = (check: string, ...lines: readonly Row[]) => n.standing(folded(...lines), check);

test('R1 what a device says that was let in counts like any other word', () => {
  expect(sees('fan', ['b', said('fan', good())])).toBe('spoken for');
});

test('R1 neither is on the other one’s hold', () => {
  expect(sees('fan', ['b', n.holdOn], ['a', said('fan', good())])).toBe('spoken for');
  expect(sees('fan', ['a', n.holdOn], ['b', said('fan', good())])).toBe('spoken for');
  expect(sees('fan', ['b', n.holdOn], ['b', said('fan', good())])).toBe('unspoken');
  expect(sees('fan', ['b', n.holdOn], ['b', n.goOn], ['b', said('fan', good())])).toBe(
    'spoken for',
  );
  expect(folded(['b', n.holdOn]).held).toBe(false);
  // A resume of one does not end the hold of the other.
  expect(sees('fan', ['a', n.holdOn], ['b', n.goOn], ['a', said('fan', good())])).toBe('unspoken');
});

test('R4 "ground it" is of the finding that the same device found last', () => {
  const { findings } = folded(
    ['a', said('fan', has('crack'))],
    ['b', said('skin', has('crack'))],
    ['a', n.rate('watch')],
    ['b', n.rate('ground')],
  );
  expect(findings.map((f) => `${f.check ?? ''} ${f.severity ?? ''}`)).toEqual([
    'fan watch',
    'skin ground',
  ]);
});

test('R6 two clocks differ and none of them jumped; where one walks is no remark on the other', () => {
  const apart = two(['a', said('fan', good())], ['b', said('skin', good())], ['a', n.finish]).map(
    (e) => (e.device === 'b' ? { ...e, at: e.at + 7_200_000 } : e),
  );
  expect(fold(n.AIRCRAFT, apart).oddities).toEqual([]);
  expect(folded(['a', { kind: 'station-set', station: 'engine' }]).station).toBe('engine');
  expect(
    folded(
      ['a', { kind: 'station-set', station: 'engine' }],
      ['b', { kind: 'station-set', station: 'boom' }],
    ).station,
  ).toBe('engine');
});
