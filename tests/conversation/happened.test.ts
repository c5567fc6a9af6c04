import { expect, test } from 'vitest';
import { pilotOn } from './pilot.ts';

/* Issue 15, "Taking": what happened to the aircraft, in other words and on the other catalogue. */

const AEROPLANE = 'training-aeroplane';

test.each([
  ['she had a prop strike last week', ['engine-after-strike', 'propeller-after-strike']],
  ['she got struck by lightning yesterday', ['lightning-marks', 'compass-after-lightning']],
  ['she ran hot yesterday', ['engine-after-heat']],
  ['tail scraped on landing last week', ['tail-attachments']],
  ['bounced it hard', ['gear-attachments', 'wing-spar-look', 'firewall-look']],
])('%s: follow-ups are demanded, whatever was named before', async (words, checks) => {
  const pilot = await pilotOn(AEROPLANE);
  await pilot.say('left flap good');
  await pilot.say(words);
  expect(pilot.findings()).toMatchObject([{ check: null, happened: true }]);
  expect(pilot.demanded()).toEqual(expect.arrayContaining(checks));
});

test('what maintenance has cleared is the one that is named, and the others stay demanded', async () => {
  const pilot = await pilotOn(AEROPLANE);
  await pilot.say('we had a hard landing yesterday');
  await pilot.say('then a lightning strike last week');
  await pilot.say('maintenance have cleared the hard landing');
  expect(pilot.demanded()).not.toContain('firewall-look');
  expect(pilot.demanded()).toContain('lightning-marks');
  await pilot.say('the mechanic signed it off');
  expect(pilot.demanded()).toEqual([]);
});

test.each([
  ['prop strike yesterday', 'crankshaft is cracked', 'engine-after-strike'],
  ['prop strike yesterday', "going to check the crankshaft, it's cracked", 'engine-after-strike'],
  ['hard landing', "going to check the firewall, it's wrinkled", 'firewall-look'],
  [
    'hard landing',
    "now I'll check the gear attachments, there's a crack in them",
    'gear-attachments',
  ],
])('R4 %s – "%s" is a finding, never an intention', async (happened, words, check) => {
  const pilot = await pilotOn(AEROPLANE);
  await pilot.say(happened);
  await pilot.say(words);
  expect(pilot.findings().map((f) => f.check)).toEqual(expect.arrayContaining([check]));
});

test.each(['going to check the firewall for wrinkles', "I'm going to look at the spar now"])(
  'R2 what is only planned at a demanded follow-up is not found there: %s',
  async (words) => {
    const pilot = await pilotOn(AEROPLANE);
    await pilot.say('hard landing');
    await pilot.say(words);
    expect(pilot.findings()).toMatchObject([{ happened: true }]);
  },
);

test('of two demanded checks with a word in common the one that is named is meant', async () => {
  const pilot = await pilotOn();
  await pilot.say('we had a hard landing');
  await pilot.say("about to look at the mount bolts, they're cracked");
  expect(pilot.findings().map((f) => f.check)).toEqual(
    expect.not.arrayContaining(['boom-attach-bolts']),
  );
  expect(pilot.findings().map((f) => f.check)).toContain('mount-bolts');
});
