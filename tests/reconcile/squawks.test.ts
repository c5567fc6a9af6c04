import { expect, test } from 'vitest';
import { isCarried, overdueText, sameFaults, squawksOf } from '#reconcile';
import type { Event } from '#shared/event';
import type { Fault, SquawkStep } from '#shared/squawk';

const fault: Fault = {
  words: 'left tyre, flat spot',
  check: 'tyre',
  part: 'Tyre',
  side: 'left',
  position: null,
  conditions: [
    { condition: 'flat-spot', sign: null, degree: null, extent: null, words: 'flat spot' },
  ],
  value: null,
  severity: 'defer',
};
const opened: SquawkStep = {
  step: 'opened',
  aircraft: 'X-1',
  fault,
  statement: 's1',
  heard: null,
  sound: null,
  reporter: 'A',
  found: null,
  hours: 100,
  legacy: false,
};
const deferral = {
  step: 'deferred',
  by: 'B',
  authority: 'rule',
  untilDate: null,
  untilHours: null,
  untilFlights: null,
  placarded: true,
  note: null,
} as const;
const again = (outcome: 'gone' | 'still-there' | 'worse'): SquawkStep => ({
  step: 'rechecked',
  by: 'A',
  statement: null,
  outcome,
});
const STEPS: Readonly<Record<string, SquawkStep>> = {
  opened,
  amended: { step: 'amended', fault, statement: null, compared: null, by: null },
  jasc: { step: 'jasc-confirmed', code: '3245', by: 'B' },
  deferred: deferral,
  rectified: {
    step: 'rectified',
    by: 'B',
    certificate: '1',
    certificateKind: 'mechanic',
    reference: 'W1',
    date: '2026-01-02',
  },
  gone: again('gone'),
  still: again('still-there'),
  worse: again('worse'),
  closed: { step: 'closed', by: 'A', note: null },
  joined: { step: 'joined', into: 's9', by: 'A' },
};

function event(step: SquawkStep, at: number, squawk = 's1'): Event {
  return {
    v: 1,
    id: `e${String(at).padStart(4, '0')}`,
    device: 'd',
    walk: null,
    aircraft: 'X-1',
    at,
    t: null,
    what: { kind: 'squawk', squawk, step },
    prev: null,
    hash: '',
  };
}
/** Another one, opened last, for the one that is joined to it. */
const OTHER = event(opened, 9999, 's9');
const life = (words: string) =>
  squawksOf([...words.split(' ').map((w, i) => event(STEPS[w] ?? opened, i + 1)), OTHER]).find(
    (s) => s.id === 's1',
  );

/** Steps, the state they end in, and what is irregular. */
test.each([
  ['opened', 'open', 0],
  ['opened opened', 'open', 0],
  ['opened amended', 'open', 0],
  ['opened jasc', 'open', 0],
  ['opened deferred', 'deferred', 0],
  ['opened rectified', 'rectified', 0],
  ['opened gone', 'rechecked', 1],
  ['opened gone closed', 'closed', 1],
  ['opened deferred gone', 'rechecked', 1],
  ['opened rectified gone closed deferred', 'closed', 1],
  ['opened rectified gone closed rectified', 'closed', 1],
  ['opened rectified gone closed gone', 'closed', 1],
  ['opened rectified gone closed worse', 'open', 1],
  ['opened joined still', 'joined', 1],
  ['opened joined amended', 'joined', 1],
  ['opened still', 'open', 0],
  ['opened joined', 'joined', 0],
  ['opened closed', 'closed', 1],
  ['opened deferred amended', 'deferred', 0],
  ['opened deferred deferred', 'deferred', 0],
  ['opened deferred rectified', 'rectified', 0],
  ['opened deferred still', 'deferred', 0],
  ['opened deferred worse', 'open', 0],
  ['opened deferred closed', 'closed', 1],
  ['opened rectified gone', 'rechecked', 0],
  ['opened rectified still', 'open', 0],
  ['opened rectified worse', 'open', 0],
  ['opened rectified amended', 'open', 0],
  ['opened rectified deferred', 'deferred', 1],
  ['opened rectified rectified', 'rectified', 1],
  ['opened rectified closed', 'closed', 1],
  ['opened rectified joined', 'joined', 1],
  ['opened rectified gone closed', 'closed', 0],
  ['opened rectified gone still', 'open', 0],
  ['opened rectified gone rectified', 'rectified', 1],
  ['opened rectified gone deferred', 'deferred', 1],
  ['opened rectified gone joined', 'joined', 1],
  ['opened rectified gone closed jasc', 'closed', 1],
  ['opened rectified gone closed still', 'open', 1],
  ['opened joined closed', 'joined', 1],
])('%s: %s, %i irregular', (words, state, irregular) => {
  const squawk = life(words);
  expect([squawk?.state, squawk?.irregular.length]).toEqual([state, irregular]);
  expect(squawk?.history).toHaveLength(words.split(' ').length);
});

test('a step for a squawk that was never opened makes none', () => {
  expect(life('closed')).toBeUndefined();
});

const DAY = (text: string) => ({ now: Date.parse(text), hours: 150, flights: 3 });
test.each([
  [{ untilDate: '2026-01-31' }, '2026-02-01T00:00:00Z', 'ran out on 2026-01-31'],
  [{ untilDate: '2026-01-31' }, '2026-01-31T23:00:00Z', null],
  [{ untilHours: 150 }, '2026-01-01', 'ran out at 150 hours'],
  [{ untilHours: 151 }, '2026-01-01', null],
  [{ untilFlights: 3 }, '2026-01-01', '3 have been walked'],
  [{ untilFlights: 4 }, '2026-01-01', null],
  [{ untilDate: '31 January' }, '2020-01-01', 'cannot be read'],
])('a deferral %j on %s: %s', (until, now, says) => {
  const [squawk] = squawksOf([event(opened, 1), event({ ...deferral, ...until }, 2)]);
  if (squawk === undefined) throw new Error('no squawk');
  const text = overdueText(squawk, DAY(now));
  if (says === null) expect(text).toBeNull();
  else expect(text).toContain(says);
});

test('one fault told by two people is offered and both stay', () => {
  const squawks = squawksOf([event(opened, 1), event({ ...opened, reporter: 'C' }, 2, 's2')]);
  expect(sameFaults(squawks)).toHaveLength(1);
  expect(squawks.filter(isCarried)).toHaveLength(2);
  const right = { ...opened, fault: { ...fault, side: 'right' } };
  expect(sameFaults(squawksOf([event(opened, 1), event(right, 2, 's2')]))).toEqual([]);
});

test.each([
  ['the check and its free name', { check: null, part: 'left tyre' }, 1],
  ['a plural of the name', { check: null, part: 'Tyres' }, 1],
  ['two free names', { check: null, part: 'cowling' }, 0],
  ['no part at all', { check: null, part: null }, 0],
  ['another check with the same name', { check: 'nose-tyre' }, 0],
])('one fault with and without a check: %s', (_, other, offered) => {
  const squawks = squawksOf([
    event(opened, 1),
    event({ ...opened, fault: { ...fault, ...other } }, 2, 's2'),
  ]);
  expect(sameFaults(squawks)).toHaveLength(offered);
});
