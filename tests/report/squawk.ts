import type { Event } from '#shared/event';
import type { Fault, Squawk, SquawkStep } from '#shared/squawk';

export const FAULT: Fault = {
  words: 'squawk, left tyre, flat spot, ground it',
  check: 'tyre',
  part: 'Tyre',
  side: 'left',
  position: null,
  conditions: [
    { condition: 'flat-spot', sign: null, degree: null, extent: null, words: 'flat spot' },
  ],
  value: null,
  severity: 'ground',
  severityBy: 'said',
};

export const WORK = {
  step: 'rectified',
  by: 'B. Ash',
  certificate: '17',
  certificateKind: 'mechanic',
  reference: 'W 1',
  date: '2026-01-31',
} as const satisfies SquawkStep;

/** A squawk with these faults and steps. */
export function squawk(more: Partial<Squawk> = {}, steps: readonly SquawkStep[] = []): Squawk {
  return {
    v: 1,
    id: 's1',
    aircraft: 'X-1',
    state: 'open',
    fault: FAULT,
    opened: Date.parse('2026-01-05T08:00:00Z'),
    hours: 120.5,
    reporter: 'A. Pilot',
    found: 'pre-flight walk',
    jasc: null,
    history: steps.map((step, i) => ({ event: `e${i}` satisfies Event['id'], at: i, step })),
    irregular: [],
    ...more,
  };
}
