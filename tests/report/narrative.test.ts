import fc from 'fast-check';
import { expect, test } from 'vitest';
import { LONGEST_NARRATIVE, narrativeOf } from '#report';
import { SEVERITY_WORDS } from '#shared/severity';
import type { Fault } from '#shared/squawk';
import { FAULT, squawk } from './squawk.ts';

/** Words of the form itself, which tell nothing of the aircraft. */
const FORM = new Set(
  "position reporter's severity found reported by aircraft time in service h measured limit as said places of severity proposed the catalogue".split(
    ' ',
  ),
);
const words = (text: string) => text.toLowerCase().match(/[a-z0-9'.-]*[a-z0-9]/g) ?? [];

const word = fc.constantFrom('tyre', 'bracket', 'hinge', 'lower', 'aft', 'strut', 'number', 'two');
const phrase = fc.array(word, { minLength: 1, maxLength: 4 }).map((w) => w.join(' '));
const maybe = <T>(of: fc.Arbitrary<T>) => fc.option(of, { nil: null });
const fault: fc.Arbitrary<Fault> = fc.record({
  words: fc.oneof(phrase, fc.string({ maxLength: 4000 })),
  check: fc.constant(null),
  part: maybe(phrase),
  side: maybe(fc.constantFrom('left', 'right')),
  position: maybe(phrase),
  conditions: fc.array(
    fc.record({
      condition: fc.constantFrom('crack', 'flat-spot', 'corrosion'),
      sign: fc.constant(null),
      degree: maybe(fc.constantFrom('slight' as const, 'moderate' as const, 'severe' as const)),
      extent: maybe(
        fc.record({
          count: fc.integer({ min: 1, max: 9 }),
          of: maybe(fc.integer({ min: 9, max: 20 })),
        }),
      ),
      words: phrase,
    }),
    { maxLength: 3 },
  ),
  value: maybe(
    fc.record({
      measure: maybe(phrase),
      said: phrase,
      inUnit: fc.constant(null),
      unit: fc.constant(null),
      limit: maybe(phrase),
    }),
  ),
  severity: maybe(fc.constantFrom('ground', 'defer', 'watch', 'note')),
});

test('every fact of the narrative is in the squawk, and it has at most 1,500 characters (seed 8)', () => {
  fc.assert(
    fc.property(
      fault,
      maybe(phrase),
      maybe(fc.integer({ min: 0, max: 9000 })),
      (said, by, hours) => {
        const one = squawk({ fault: said, reporter: by, hours, found: null });
        const text = narrativeOf(one, null);
        expect(text.length).toBeLessThanOrEqual(LONGEST_NARRATIVE);
        const told = text.split(' As said: “')[0] ?? '';
        const known = new Set(
          words(
            JSON.stringify([
              said.part,
              said.side,
              said.position,
              said.value,
              by,
              said.conditions.map((c) => [c.condition.replaceAll('-', ' '), c.degree, c.extent]),
              said.severity === null ? null : SEVERITY_WORDS[said.severity],
              String(hours),
              '2026-01-05',
            ]),
          ),
        );
        for (const w of words(told)) if (!FORM.has(w)) expect(known).toContain(w);
        if (said.severity === null) expect(told).not.toContain('severity');
        if (hours === null) expect(told).not.toContain('service');
      },
    ),
    { seed: 8, numRuns: 500 },
  );
});

test('"reporter\'s severity" stands only where the reporter said it', () => {
  const told = (severityBy?: 'said' | 'catalogue') => {
    const fault: Fault = { ...FAULT };
    delete fault.severityBy;
    if (severityBy !== undefined) fault.severityBy = severityBy;
    return narrativeOf(squawk({ fault, reporter: null }), null);
  };
  expect(told('said')).toContain("Reporter's severity: ground it.");
  expect(told('catalogue')).toContain('Severity proposed by the catalogue: ground it.');
  expect(told()).toContain(' Severity: ground it.');
  expect(`${told('catalogue')}${told()}`).not.toContain('eporter');
});

test('it reads as a mechanic writes: part with side, condition, extent, limit, severity, who and when', () => {
  const text = narrativeOf(
    squawk({
      fault: {
        ...FAULT,
        value: { measure: 'depth', said: 'two mm', inUnit: 2, unit: 'mm', limit: 'at least 3 mm' },
      },
    }),
    null,
  );
  expect(text).toBe(
    "Left tyre: flat spot. Depth: 2 mm, at least 3 mm. Reporter's severity: ground it. Found: pre-flight walk. Reported 2026-01-05 by A. Pilot. Aircraft time in service: 120.5 h. As said: “squawk, left tyre, flat spot, ground it”.",
  );
});

test('five minutes of words are cut at the end, and everything else is kept', () => {
  const text = narrativeOf(squawk({ fault: { ...FAULT, words: 'and so on '.repeat(1000) } }), null);
  expect(text).toHaveLength(LONGEST_NARRATIVE);
  expect(text).toContain('Left tyre: flat spot.');
  expect(text.endsWith('…”.')).toBe(true);
});
