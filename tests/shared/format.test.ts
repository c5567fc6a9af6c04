import { expect, test } from 'vitest';
import { z } from 'zod';
import { readAs, type Format } from '#shared/format';
import { worse } from '#shared/severity';

const Pebble = z.object({ v: z.literal(2), weight: z.number() });
const PebbleFormat: Format<typeof Pebble> = {
  name: 'pebble',
  version: 2,
  schema: Pebble,
  upcasters: { 1: (old) => ({ v: 2, weight: old['mass'] }) },
};

test.each([
  ['current', { v: 2, weight: 3 }, { ok: true, value: { v: 2, weight: 3 } }],
  ['old, read through its upcaster', { v: 1, mass: 3 }, { ok: true, value: { v: 2, weight: 3 } }],
])('reads a %s record', (_name, input, expected) => {
  expect(readAs(PebbleFormat, input)).toEqual(expected);
});

test.each([
  ['not an object', 'x', 'A pebble has to be an object.'],
  ['no format', {}, 'no format number'],
  ['newer', { v: 3 }, 'knows formats up to 2'],
  ['wrong inside', { v: 2, weight: 'x' }, 'at "weight"'],
])('refuses a record that is %s', (_name, input, sentence) => {
  expect(readAs(PebbleFormat, input)).toMatchObject({
    ok: false,
    error: expect.stringContaining(sentence),
  });
});

test('the worse severity wins, and a severity not said gives way', () => {
  expect(worse('watch', 'ground')).toBe('ground');
  expect(worse(null, 'note')).toBe('note');
  expect(worse('defer', null)).toBe('defer');
});
