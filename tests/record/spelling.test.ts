import { expect, test } from 'vitest';
import { aircraftSaid, sameRegistration, spelled } from '#record';

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

test.each([
  [
    'squawk on november one two three alpha bravo, left main tyre flat',
    'N123AB',
    'left main tyre flat',
  ],
  [
    'squawk on november one two three alpha bravo left main tyre flat',
    'N123AB',
    'left main tyre flat',
  ],
  ['Squawk, on Golf Hotel X-ray Yankee Zulu: oil leak', 'GHXYZ', 'oil leak'],
  ['on golf x ray yankee, two cracks', 'GXY', 'two cracks'],
  ['squawk on november 12 alfa', 'N12A', ''],
  ['squawk on november one two banana bravo left main tyre flat', null, 'left main tyre flat'],
])('"%s" begins with the registration %s', (words, registration, rest) => {
  expect(aircraftSaid(words)).toMatchObject({ registration, rest });
});

test.each([
  'squawk left main tyre flat',
  'squawk on one two blades a nick',
  'squawk on 123 blades',
  'squawk on delta wing',
  'left tyre flat on november one two three',
  'squawk on',
  '',
])('"%s" begins with no registration', (words) => {
  expect(aircraftSaid(words)).toBeNull();
});

test.each([
  ['N-123ab', 'N123AB', true],
  ['N123A', 'N123AB', false],
  ['-', '', false],
])('"%s" and "%s" are one registration: %s', (one, other, same) => {
  expect(sameRegistration(one, other)).toBe(same);
});
