import fc from 'fast-check';
import { expect, test } from 'vitest';
import { parseCatalogue } from '#catalogue';
import { SMALL } from './small.ts';

/** Seconds within which any file has to be answered on one slow core. */
const PATIENCE = 20;

function refused(text: string): string {
  const began = performance.now();
  const read = parseCatalogue(text, 'bad.yaml');
  expect((performance.now() - began) / 1000).toBeLessThan(PATIENCE);
  if (read.ok) throw new Error('It was accepted.');
  return read.problems[0]?.text ?? '';
}

const bomb = [
  'a0: &a0 [x, x, x, x, x, x, x, x, x]',
  ...Array.from(
    { length: 9 },
    (_, i) => `a${i + 1}: &a${i + 1} [${Array(9).fill(`*a${i}`).join(', ')}]`,
  ),
].join('\n');

const many = (n: number): string =>
  JSON.stringify({
    v: 1,
    id: 'many',
    name: 'Many',
    kind: 'other',
    stations: [
      {
        id: 's',
        name: 'S',
        place: { x: 1, y: 1 },
        checks: Array.from({ length: n }, (_, i) => ({ id: `c${i}`, name: `check ${i}` })),
      },
    ],
  });

test.each([
  ['an alias bomb', bomb, /repeats by "\*name"; write them out/],
  ['an alias of itself', 'a: &a [*a]', /Nested too deep|repeats|\*a/],
  ['ten thousand checks', many(10_000), /has 10000 checks; at most 5000/],
  ['three million characters', `${SMALL}#${'x'.repeat(3_000_000)}`, /at most 2000000/],
  ['brackets without end', '['.repeat(100_000), /Nested too deep/],
  ['braces without end', '{a: '.repeat(100_000), /Nested too deep/],
  ['dashes without end', '- '.repeat(100_000), /Nested too deep/],
  ['question marks without end', '? '.repeat(100_000), /Nested too deep/],
  [
    'steps without end',
    Array.from({ length: 300 }, (_, i) => `${' '.repeat(i)}a:`).join('\n'),
    /Nested too deep/,
  ],
  [
    'thirty thousand fields',
    Array.from({ length: 30_000 }, (_, i) => `k${i}: 1`).join('\n'),
    /is missing|not a field/,
  ],
  ['a field named __proto__', '{"__proto__": {"v": 1}}', /"__proto__" is not a name/],
  ['zero bytes', '\u0000\u0001\u0002', /./],
  [
    'not text',
    String.fromCharCode(...Array.from({ length: 500 }, (_, i) => (i * 7919) % 65536)),
    /./,
  ],
])(
  '%s gets one sentence and no hang',
  (_what, text, sentence) => {
    expect(refused(text)).toMatch(sentence);
  },
  PATIENCE * 1000,
);

test(
  'five thousand checks are read',
  () => {
    expect(parseCatalogue(many(5_000), 'many.json').ok).toBe(true);
  },
  PATIENCE * 1000,
);

test('a prototype is not polluted by what is read', () => {
  refused('{"__proto__": {"polluted": true}, "constructor": {"prototype": {"polluted": true}}}');
  expect(({} as Record<string, unknown>)['polluted']).toBeUndefined();
});

test(
  'any cut or smudged catalogue is answered with sentences (seed 20261125)',
  () => {
    const smudges = fc.array(
      fc.record({
        at: fc.nat(SMALL.length),
        cut: fc.nat(40),
        by: fc.oneof(
          fc.string({ maxLength: 6 }),
          fc.constantFrom(
            '\t',
            '- ',
            '&a ',
            '*a ',
            '{',
            '[',
            '"',
            "'",
            '!!js ',
            '---\n',
            '? ',
            ': ',
          ),
        ),
      }),
      { minLength: 1, maxLength: 4 },
    );
    fc.assert(
      fc.property(smudges, (list) => {
        const text = list.reduce((t, s) => t.slice(0, s.at) + s.by + t.slice(s.at + s.cut), SMALL);
        const read = parseCatalogue(text, 'smudged.yaml');
        if (read.ok) return;
        expect(read.problems.length).toBeGreaterThan(0);
        for (const p of read.problems) {
          expect(p.line).toBeGreaterThan(0);
          expect(p.text).not.toMatch(/undefined|\[object|Invalid input/);
        }
      }),
      { seed: 20261125, numRuns: 150 },
    );
  },
  PATIENCE * 1000,
);
