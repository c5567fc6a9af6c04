import { expect, test } from 'vitest';
import { spelled } from '#record';

/** Words as in FAA AIM 4-2-7, table 4-2-2 (the same letters as ICAO Annex 10 Volume II). */
const TABLE =
  'Alfa Bravo Charlie Delta Echo Foxtrot Golf Hotel India Juliett Kilo Lima Mike November Oscar Papa Quebec Romeo Sierra Tango Uniform Victor Whiskey Xray Yankee Zulu Zero One Two Three Four Five Six Seven Eight Nine';

test('every word of the spelling alphabet is its letter or figure', () => {
  expect(spelled(TABLE)).toBe('ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789');
});

test.each([
  ['november one two tree alfa', 'N123A'],
  ['Niner, fife, Alpha', '95A'],
  ['X-ray juliet 42', 'XJ42'],
  ['n 12 bravo', 'N12B'],
])('"%s" is %s', (words, registration) => {
  expect(spelled(words)).toBe(registration);
});

test.each(['', '  ', 'november one two apple', 'left main tyre'])(
  '"%s" is no registration spelled out',
  (words) => {
    expect(spelled(words)).toBeNull();
  },
);
