import { expect, test } from 'vitest';
import { fold } from '#reconcile';
import type { Finding } from '#shared/coverage';
import type { SquawkStep } from '#shared/squawk';
import { stepWords } from '#shared/steps';
import {
  clock,
  countOf,
  findingTitle,
  gravity,
  many,
  missingWords,
  namesOf,
  worstFirst,
} from '../../src/screens/parts/words.ts';
import { textIn } from '../../src/screens/text/text.ts';
import { catalogueOf, EVENTFUL } from './cases.ts';
import { madeWalk } from './made.ts';

const catalogue = catalogueOf('training-helicopter');
const names = namesOf(catalogue);
const coverage = fold(catalogue, madeWalk(catalogue, 'w', EVENTFUL));

test.each([
  [0, '0:00'],
  [59.9, '0:59'],
  [61, '1:01'],
  [3599, '59:59'],
  [3600, '1:00:00'],
  [-3, '0:00'],
])('%d seconds read %s', (seconds, text) => {
  expect(clock(seconds)).toBe(text);
});

test.each([
  [0, '0 checks'],
  [1, '1 check'],
  [2, '2 checks'],
])('%d is %s', (n, text) => {
  expect(many(n, 'check')).toBe(text);
});

test('what is missing at a part-spoken check is named in the words of the catalogue', () => {
  const lines = coverage.checks.find((c) => c.check === 'oil-lines');
  expect(lines?.standing).toBe('part');
  expect(lines === undefined ? '' : missingWords(lines, names.check.get('oil-lines'))).toBe(
    'leaks',
  );
});

test('only checks that are required today are counted, and skipped ones stay open', () => {
  const count = countOf(coverage.checks);
  const required = coverage.checks.filter((c) => c.required.today);
  expect(count.required).toBe(required.length);
  expect(count.open).toBe(
    required.filter((c) => c.standing !== 'spoken' && c.standing !== 'set-aside').length,
  );
  expect(count.open).toBeGreaterThanOrEqual(2);
});

test('R4: a finding without a check is named by the part as said', () => {
  const [finding] = coverage.findings;
  expect(finding).toBeDefined();
  if (finding === undefined) return;
  expect(
    findingTitle(
      { ...finding, check: null, instances: [], part: 'thing by the mast' },
      names,
      textIn('en'),
    ),
  ).toBe('Thing by the mast');
});

test('R6: findings that count stand first, worst first; those taken back last', () => {
  const [some] = coverage.findings;
  if (some === undefined) throw new Error('no finding');
  const made = (id: string, severity: Finding['severity'], settled: Finding['settled']) => ({
    ...some,
    id,
    severity,
    settled,
  });
  const order = worstFirst([
    made('gone', 'ground', 'taken-back'),
    made('watch', 'watch', 'stands'),
    made('asked', null, 'in-question'),
    made('ground', 'ground', 'stands'),
  ]);
  expect(order.map((f) => f.id)).toEqual(['ground', 'asked', 'watch', 'gone']);
});

test('14 CFR 25.1322: red for what grounds, amber for what waits, neither for information', () => {
  expect(gravity('ground')).toBe('warning');
  expect(gravity('defer')).toBe('caution');
  expect(gravity(null)).toBe('caution');
  expect(gravity('watch')).toBe('plain');
  expect(gravity('note')).toBe('plain');
});

test('a deferral says by whom, on what authority and until when', () => {
  const step: SquawkStep = {
    step: 'deferred',
    by: 'P. Hazel',
    authority: 'chief engineer',
    untilDate: '2026-09-01',
    untilHours: 1210,
    untilFlights: null,
    placarded: true,
    note: null,
  };
  expect(stepWords(step)).toBe(
    'Deferred by P. Hazel on the authority of chief engineer until 2026-09-01 or 1210 h, placarded',
  );
  expect(stepWords({ ...step, untilDate: null, untilHours: null })).toContain('without an end');
});
