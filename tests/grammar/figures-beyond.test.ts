import { expect, test } from 'vitest';
import { Catalogue } from '#shared/catalogue';
import { FIRST_SCENE } from '#shared/scene';
import { Statement } from '#shared/statement';
import { heardOf, ourReader } from '../bench/grammar/ours.ts';

const catalogue = Catalogue.parse({
  v: 1,
  id: 'tiny',
  name: 'Tiny',
  kind: 'other',
  stations: [
    {
      id: 'engine',
      name: 'engine',
      place: { x: 50, y: 50 },
      checks: [
        {
          id: 'oil',
          name: 'engine oil',
          measures: [{ id: 'level', name: 'level', unit: '[qt_us]', low: 6, high: 8 }],
        },
      ],
    },
  ],
});
const reader = ourReader(catalogue);
const LONG = '9'.repeat(400);

test.each([
  `engine oil ${LONG} quarts`,
  `engine oil is at ${LONG} quarts`,
  `engine oil ${LONG} thousand quarts`,
  `engine oil ${'9'.repeat(307)} thousand quarts`,
  `engine oil six point ${LONG} quarts`,
  `engine oil 6/0 quarts`,
  LONG,
])(
  'R5, R8: a figure that is none gives valid statements and no value that is not finite (%.30s…)',
  (text) => {
    const { statements } = reader.read(heardOf(text), FIRST_SCENE);
    for (const s of statements) {
      expect(Statement.safeParse(s).error).toBeUndefined();
      if (s.kind !== 'observation') continue;
      for (const v of s.values)
        expect(Number.isFinite(v.low) && Number.isFinite(v.high)).toBe(true);
    }
  },
);

test.each([`engine oil ${LONG} quarts`, 'engine oil 6/0 quarts'])(
  'R5: it is asked about, never silent (%.30s…)',
  (text) => {
    const { statements } = reader.read(heardOf(text), FIRST_SCENE);
    const asked = statements.some(
      (s) =>
        (s.kind === 'observation' && s.doubtful !== null) ||
        (s.kind === 'not-understood' && !s.chatter),
    );
    expect(asked, JSON.stringify(statements)).toBe(true);
  },
);

test('a figure that is one is read as before', () => {
  const [first] = reader.read(heardOf('engine oil six and a half quarts'), FIRST_SCENE).statements;
  expect(first?.kind === 'observation' && first.values[0]?.low).toBe(6.5);
});
