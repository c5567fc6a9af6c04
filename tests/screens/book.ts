import { recurringOf, sameFaults } from '#reconcile';
import type { SquawkBook, SquawkView, TrendView } from '#screens';
import type { Event } from '#shared/event';
import type { Fault, Squawk, SquawkState, SquawkStep } from '#shared/squawk';
import { catalogueOf } from './cases.ts';

const DAY = 86_400_000;
const BASE = Date.UTC(2026, 7, 20, 8, 10);

function fault(
  words: string,
  part: string,
  severity: Fault['severity'],
  condition?: string,
): Fault {
  return {
    words,
    check: null,
    part,
    side: null,
    position: null,
    conditions:
      condition === undefined
        ? []
        : [{ condition, sign: null, degree: null, extent: null, words: condition }],
    value: null,
    severity,
  };
}

function squawk(
  id: string,
  state: SquawkState,
  of: Fault,
  day: number,
  steps: readonly SquawkStep[],
): Squawk {
  const at = BASE + day * DAY;
  return {
    v: 1,
    id,
    aircraft: 'Rowan 2',
    state,
    fault: of,
    opened: at,
    hours: 1180.2 + day,
    reporter: 'M. Alder',
    found: 'pre-flight walk',
    jasc: state === 'open' ? null : '6210',
    history: steps.map((step, i) => ({ event: `${id}-${i}`, at: at + i * DAY, step })),
    irregular: [],
  };
}

function opened(of: Fault, day: number): SquawkStep {
  return {
    step: 'opened',
    aircraft: 'Rowan 2',
    fault: of,
    statement: null,
    heard: null,
    sound: null,
    reporter: 'M. Alder',
    found: 'on a pre-flight walk',
    hours: 1180.2 + day,
    legacy: false,
  };
}

const TYRE = fault('left ground wheel flat, watch it', 'left ground wheel', 'watch');
const LIGHT = fault('landing light lens cracked, defer it', 'landing light', 'defer');
const LINE = fault(
  'oil line chafed through to the braid, ground it',
  'oil line',
  'ground',
  'chafed',
);
const LINE_AGAIN = fault('oil line chafed at the clamp', 'oil line', 'watch', 'chafed');
const DOOR = fault('right door hinge pin loose', 'right door hinge', 'note');

const deferred: SquawkStep = {
  step: 'deferred',
  by: 'P. Hazel',
  authority: 'chief engineer',
  untilDate: '2026-09-01',
  untilHours: null,
  untilFlights: null,
  placarded: true,
  note: 'Day flights only.',
};
const rectified: SquawkStep = {
  step: 'rectified',
  by: 'P. Hazel',
  certificate: '0000',
  certificateKind: 'mechanic',
  reference: 'work order 12',
  date: '2026-09-10',
};

function view(s: Squawk, title: string, narrative: string, part: Partial<SquawkView>): SquawkView {
  return { squawk: s, title, narrative, jasc: [], overdue: null, next: [], ...part };
}

const hours = [1102, 1121.5, 1140.2, 1163.9, 1180.2, 1199.4];
const SLACK: TrendView = {
  id: 'belt-slack',
  name: 'Drive belts: slack',
  unit: 'mm',
  limit: { low: null, high: 12 },
  points: [6.1, 6.6, 7.4, 8.3, 8.8, 9.9].map((value, i) => ({
    at: BASE - (90 - i * 16) * DAY,
    hours: hours[i] ?? null,
    value,
    walk: null,
  })),
  over: 'hours',
  line: { slope: 0.039, intercept: -37 },
  reaches: { at: 1256, from: 1238, to: 1281 },
  text: 'It reaches the limit at about 1256 aircraft hours; between 1238 and 1281.',
};
const TYRES: TrendView = {
  id: 'tyre',
  name: 'Left tyre: pressure',
  unit: 'psi',
  limit: { low: 28, high: 34 },
  points: [31, 30.5, 31.5].map((value, i) => ({
    at: BASE + i * 9 * DAY,
    hours: null,
    value,
    walk: null,
  })),
  over: 'days',
  line: null,
  reaches: null,
  text: '3 values are too few for a trend.',
};

const LIGHT_OPEN = squawk('q-light', 'deferred', LIGHT, 1, [opened(LIGHT, 1), deferred]);
const LINE_OPEN = squawk('q-line', 'open', LINE, 24, [opened(LINE, 24)]);
const LINE_TOO = squawk('q-line-too', 'open', LINE_AGAIN, 26, [opened(LINE_AGAIN, 26)]);
const TYRE_OPEN = squawk('q-tyre', 'open', TYRE, 20, [opened(TYRE, 20)]);
const DOOR_MENDED = squawk('q-door', 'rectified', DOOR, 3, [
  opened(DOOR, 3),
  rectified,
  { step: 'rechecked', by: 'M. Alder', statement: null, outcome: 'still-there' },
  { ...rectified, reference: 'work order 19', date: '2026-09-12' },
]);
const SQUAWKS = [LIGHT_OPEN, LINE_OPEN, LINE_TOO, TYRE_OPEN, DOOR_MENDED];

/** The same squawks as events of the log: what recurs is read from there. */
function eventsOf(squawks: readonly Squawk[]): Event[] {
  return squawks
    .flatMap((s) =>
      s.history.map(({ event, at, step }): Event => ({
        v: 1,
        id: event,
        device: 'bench',
        walk: null,
        aircraft: s.aircraft,
        at,
        t: null,
        what: { kind: 'squawk', squawk: s.id, step },
        prev: null,
        hash: '',
      })),
    )
    .sort((a, b) => a.at - b.at);
}

/** A made-up book with every state a squawk can be in. */
export const BOOK: SquawkBook = {
  aircraft: 'Rowan 2',
  squawks: [
    view(
      LIGHT_OPEN,
      'Landing light: lens cracked',
      'Landing light, lens cracked. Found on a pre-flight walk at 1181.2 h. Deferred by the reporter’s word.',
      {
        overdue: 'The deferral ran out on 2026-09-01.',
        next: ['deferred', 'rectified', 'rechecked'],
      },
    ),
    view(
      LINE_OPEN,
      'Oil line: chafed',
      'Oil line, chafed through to the braid. Found on a pre-flight walk at 1204.2 h. Reporter says ground it.',
      {
        jasc: [
          { code: '7900', name: 'ENGINE OIL SYSTEM (AIRFRAME)' },
          { code: '8550', name: 'RECIPROCATING ENGINE OIL SYSTEM' },
        ],
        next: ['deferred', 'rectified', 'rechecked'],
      },
    ),
    view(LINE_TOO, 'Oil line: chafed', 'Oil line, chafed at the clamp.', {
      next: ['deferred', 'rectified', 'rechecked'],
    }),
    view(TYRE_OPEN, 'Left ground wheel: flat', 'Left ground wheel flat.', {
      next: ['deferred', 'rectified', 'rechecked'],
    }),
    view(DOOR_MENDED, 'Right door hinge: pin loose', 'Right door, hinge pin loose.', {
      next: ['rechecked'],
    }),
  ],
  trends: [SLACK, TYRES, ...recurringOf(eventsOf(SQUAWKS), catalogueOf('training-helicopter'))],
  same: sameFaults(SQUAWKS),
};
