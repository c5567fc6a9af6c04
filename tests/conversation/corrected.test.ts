import { expect, test } from 'vitest';
import { pilotOn } from './pilot.ts';

/* Issue 15, "Taking": a correction says what it corrects, in any order of words, in one breath or the next. */

const AEROPLANE = 'training-aeroplane';

test.each([
  ['oil is five, no, six quarts', 6],
  ['oil is five quarts, no, six', 6],
  ['oil level is five no six quarts', 6],
  ['oil level is nine quarts, make that seven', 7],
  ['oil is five, sorry, six and a half quarts', 6.5],
])('within one breath of a value: %s', async (words, low) => {
  const pilot = await pilotOn(AEROPLANE);
  const came = await pilot.say(words);
  expect(came.question).toBeNull();
  expect(came.statements.at(-1)).toMatchObject({
    amends: came.statements[0]?.id,
    values: [{ low, unit: '[qt_us]', trouble: null }],
  });
  // R6: what was said first is kept, and counts for nothing.
  expect(pilot.findings()).toEqual([]);
});

test('R8 within one breath of a pressure: outside its limit', async () => {
  const pilot = await pilotOn(AEROPLANE);
  const came = await pilot.say('left main tyre pressure is thirty, I mean thirty two psi');
  expect(came.statements.at(-1)).toMatchObject({ values: [{ low: 32, unit: '[psi]' }] });
  expect(pilot.findings()).toMatchObject([{ check: 'left-tyre' }]);
});

test.each([
  ['left tyre is worn, no, the right one', 'right-tyre'],
  ['left tyre is worn, sorry, the nose tyre', 'nose-tyre'],
  ['spinner has a crack, no, the blade', 'propeller-blades'],
])('within one breath of what it is: %s', async (words, check) => {
  const pilot = await pilotOn(AEROPLANE);
  await pilot.say(words);
  expect(pilot.findings()).toMatchObject([{ check }]);
});

test.each([
  'left flap good, sorry, not good',
  'left flap good, no, wait, that is bent',
  "left flap good, wait, there's a dent",
])('R6 a good that is taken back in the same breath is none: %s', async (words) => {
  const pilot = await pilotOn(AEROPLANE);
  await pilot.say(words);
  expect(pilot.findings()).toMatchObject([{ check: 'left-flap' }]);
  expect(pilot.standing('left-flap')).not.toBe('spoken');
});

test.each(['left flap good no cracks', 'left flap good, no dents, no cracks, no corrosion'])(
  'R3 a denial is no correction: %s',
  async (words) => {
    const pilot = await pilotOn(AEROPLANE);
    const came = await pilot.say(words);
    expect(pilot.findings()).toEqual([]);
    expect(came.statements).toHaveLength(1);
    expect(came.statements).toMatchObject([{ verdict: { good: true }, amends: null }]);
  },
);

test.each([
  ['not a crack, a scratch', { condition: 'scratch' }],
  ["it's a dent, not a crack", { condition: 'dent' }],
  ['make that a dent', { condition: 'dent' }],
])('which fault it is: %s', async (words, condition) => {
  const pilot = await pilotOn(AEROPLANE);
  await pilot.say('left flap has a crack');
  await pilot.say(words);
  expect(pilot.findings()).toHaveLength(1);
  expect(pilot.findings()).toMatchObject([{ check: 'left-flap', conditions: [condition] }]);
});

test('R6 "no cracks" behind a dent corrects nothing: the dent is asked about, and stands till then', async () => {
  const pilot = await pilotOn(AEROPLANE);
  await pilot.say('left flap has a dent');
  await pilot.say('no cracks');
  expect(pilot.findings()).toMatchObject([{ conditions: [{ condition: 'dent' }] }]);
});

test('where, how large and how bad it is', async () => {
  const pilot = await pilotOn(AEROPLANE);
  await pilot.say('left flap has a dent');
  await pilot.say('inboard end, about an inch');
  await pilot.say('no, outboard end');
  await pilot.say('make it two inches');
  expect(pilot.findings()).toMatchObject([
    { conditions: [{ condition: 'dent', place: 'outboard end', size: 'two inches' }] },
  ]);
  await pilot.say('watch it');
  // "Deferred items" is a name of the technical log.
  const came = await pilot.say('make it defer');
  expect(pilot.findings()).toMatchObject([{ check: 'left-flap', severity: 'defer' }]);
  expect(came.view.station).toBe('left-trailing');
});

test.each([
  ["it's blade two", ['2']],
  ['the second one', ['2']],
  ['number one', ['1']],
])('which of several, told later and not asked for: %s', async (words, places) => {
  const pilot = await pilotOn(AEROPLANE);
  await pilot.say('propeller blade has a nick');
  await pilot.say(words);
  expect(pilot.findings()).toMatchObject([
    { check: 'propeller-blades', instances: places, conditions: [{ extent: null }] },
  ]);
});

test.each([
  ['left tyre is worn', 'right tyre is worn', ['left-tyre', 'right-tyre']],
  [
    'left brake line is leaking',
    'right side, brake line is leaking',
    ['left-brake-line', 'right-brake-line'],
  ],
])('R4 the other side is another thing, and no detail: %s', async (one, other, checks) => {
  const pilot = await pilotOn(AEROPLANE);
  await pilot.say(one);
  await pilot.say(other);
  expect(pilot.findings().map((f) => f.check)).toEqual(checks);
});

test('what is taken back is told whole', async () => {
  const pilot = await pilotOn();
  await pilot.say('skid shoes not fitted');
  const came = await pilot.say('take that back');
  expect(came.spoken).toContain('Taken back: skid shoes not fitted');
});

test('what is corrected within one breath is taken back whole', async () => {
  const pilot = await pilotOn(AEROPLANE);
  await pilot.say('left flap has a dent');
  await pilot.say('oil is nine, no, ten quarts');
  expect(pilot.findings()).toHaveLength(2);
  const came = await pilot.say('scrap that');
  expect(came.spoken).toContain('Taken back: oil is nine, no, ten quarts');
  expect(pilot.findings()).toMatchObject([{ check: 'left-flap' }]);
});
