import { expect, test } from 'vitest';
import { ownerSounds } from '../../../grammar/listen/owners.ts';

const KNOWN: Readonly<Record<string, readonly string[]>> = {
  gauge: ['G', 'EY', 'JH'],
  belt: ['B', 'EH', 'L', 'T'],
  fan: ['F', 'AE', 'N'],
};

test.each([
  ["gauge's", 'G EY JH IH Z'],
  ["belt's", 'B EH L T S'],
  ["fan's", 'F AE N Z'],
])('an owner sounds as its word does: %s', (word, sounds) => {
  expect(ownerSounds(word, (w) => KNOWN[w] ?? [])?.join(' ')).toBe(sounds);
});

test.each(['belts', "'s", "knob's"])('what is no owner of a known word is left: %s', (word) => {
  expect(ownerSounds(word, (w) => KNOWN[w] ?? [])).toBeNull();
});
