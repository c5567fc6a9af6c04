import { expect, test } from 'vitest';
import { pilotOn } from './pilot.ts';

/* A fault that is put right on the spot: the later report stands for the earlier one (R6), where the words say so. */

test.each([
  ['Left fuel cap is loose.', "I've tightened it, it's tight now."],
  ['Left fuel cap is loose.', 'Left fuel cap is secure now.'],
])('%s %s', async (fault, mended) => {
  const pilot = await pilotOn('training-aeroplane');
  await pilot.say(fault);
  const [found] = pilot.findings();
  expect(found).toBeDefined();
  await pilot.say(mended);
  expect(pilot.findings()).toEqual([]);
  expect(pilot.standing(found?.check ?? '')).not.toBe('question');
});

test('R6 without such words the good is a contradiction, and the fault stands', async () => {
  const pilot = await pilotOn('training-aeroplane');
  await pilot.say('Left fuel cap is loose.');
  await pilot.say('watch it');
  const [found] = pilot.findings();
  await pilot.say('Left fuel cap is secure.');
  expect(pilot.findings()).toHaveLength(1);
  expect(pilot.standing(found?.check ?? '')).toBe('question');
});

test('R6 a crack is mended by nobody on the ramp, whatever is said of now', async () => {
  const pilot = await pilotOn();
  await pilot.say('front cross tube is cracked');
  await pilot.say('front cross tube is good now');
  expect(pilot.findings()).toMatchObject([{ check: 'cross-tubes' }]);
});

test('R6 mended at one side, the fault at the other stands', async () => {
  const pilot = await pilotOn();
  await pilot.say('the left and the right skid shoe are both loose');
  const before = pilot.findings().length;
  await pilot.say("I've tightened the left skid shoe, the left one is secure now");
  expect(before).toBeGreaterThan(0);
  expect(pilot.findings().length).toBeGreaterThan(0);
});

test.each([
  [
    'The exhaust has a crack at the weld.',
    "No, it's a casting line, not a crack, the exhaust is good.",
  ],
  ['Front cross tube is cracked.', 'It was only dirt, not a crack, the front cross tube is good.'],
])('R6 what was taken for a fault is none where that is said: %s %s', async (fault, none) => {
  const pilot = await pilotOn();
  await pilot.say(fault);
  const [found] = pilot.findings();
  expect(found).toBeDefined();
  await pilot.say(none);
  expect(pilot.findings()).toEqual([]);
  expect(pilot.standing(found?.check ?? '')).not.toBe('question');
});

test.each([
  ['Front cross tube is cracked.', "It's a good tube, the front cross tube is good."],
  ['Front cross tube is cracked.', 'Is it only dirt? The front cross tube is good.'],
  ['Front cross tube is cracked.', "It's only a short one, the front cross tube is good."],
  ['Front cross tube is cracked.', 'A bit came off, the front cross tube is good.'],
])('R6 praise behind a fault is no word for what it was: %s %s', async (fault, praise) => {
  const pilot = await pilotOn();
  await pilot.say(fault);
  await pilot.say(praise);
  expect(pilot.findings()).toMatchObject([{ check: 'cross-tubes' }]);
});
