import { expect, test } from 'vitest';
import type { Fault, SquawkStep } from '#shared/squawk';
import { stepWords } from '#shared/steps';
import { steppedWords } from '../../src/screens/squawks/stepped.ts';
import { textIn } from '../../src/screens/text/text.ts';
import '../../src/screens/text/later.ts';

const fault: Fault = {
  words: 'left tyre worn',
  check: null,
  part: 'left tyre',
  side: null,
  position: null,
  conditions: [],
  value: null,
  severity: 'watch',
};
const opened = {
  step: 'opened',
  aircraft: 'Rowan 2',
  fault,
  statement: null,
  heard: null,
  sound: null,
  reporter: 'M. Alder',
  found: 'in flight',
  hours: null,
  legacy: true,
} as const;
const deferred = {
  step: 'deferred',
  by: 'P. Hazel',
  authority: 'chief engineer',
  untilDate: '2026-09-01',
  untilHours: 1210,
  untilFlights: 3,
  placarded: true,
  note: 'day only',
} as const;

/** Every kind of step, with everything that it may hold and with nothing of it. */
const STEPS: readonly [SquawkStep, german: string][] = [
  [opened, 'Eröffnet von M. Alder, gefunden: in flight, älter als diese Liste'],
  [{ ...opened, reporter: null, found: null, legacy: false }, 'Eröffnet'],
  [
    { step: 'amended', fault, statement: null, compared: 'worse', by: 'M. Alder' },
    'Wieder gesagt von M. Alder: schlimmer, beobachten',
  ],
  [
    {
      step: 'amended',
      fault: { ...fault, severity: null },
      statement: null,
      compared: null,
      by: null,
    },
    'Wieder gesagt',
  ],
  [{ step: 'jasc-confirmed', code: '3246', by: 'B. Ash' }, 'JASC 3246 bestätigt von B. Ash'],
  [
    deferred,
    'Aufgeschoben von P. Hazel auf Befugnis von chief engineer bis 2026-09-01 oder 1210 h oder 3 Flüge, gekennzeichnet. day only',
  ],
  [
    {
      ...deferred,
      untilDate: null,
      untilHours: null,
      untilFlights: null,
      placarded: false,
      note: null,
    },
    'Aufgeschoben von P. Hazel auf Befugnis von chief engineer, ohne Ende',
  ],
  [
    {
      step: 'rectified',
      by: 'B. Ash',
      certificateKind: 'Part 66',
      certificate: '17',
      reference: 'WO 4',
      date: '2026-03-01',
    },
    'Behoben von B. Ash, Part 66 17, WO 4, 2026-03-01',
  ],
  [
    { step: 'rechecked', by: 'M. Alder', statement: null, outcome: 'still-there' },
    'Nachgeprüft von M. Alder: noch da',
  ],
  [
    { step: 'corrected', fault, by: 'M. Alder', note: 'misheard' },
    'Berichtigt von M. Alder zu „left tyre worn“. misheard',
  ],
  [{ step: 'noted', by: 'M. Alder', note: 'both sides' }, 'Ergänzt von M. Alder: both sides'],
  [
    { step: 'withdrawn', by: 'M. Alder', reason: 'no fault' },
    'Zurückgezogen von M. Alder: no fault',
  ],
  [{ step: 'closed', by: 'M. Alder', note: 'done' }, 'Geschlossen von M. Alder. done'],
  [{ step: 'joined', into: 's1', by: 'M. Alder' }, 'Mit einer anderen zusammengelegt von M. Alder'],
];

test.each(STEPS)(
  '17 the screen tells a step as documents do, and in German: %j',
  (step, german) => {
    expect(steppedWords(step, textIn('en'))).toBe(stepWords(step));
    expect(steppedWords(step, textIn('de'))).toBe(german);
  },
);
