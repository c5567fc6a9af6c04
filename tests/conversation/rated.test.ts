import { expect, test } from 'vitest';
import { pilotOn } from './pilot.ts';

/* Issue 15, "Asking": how bad a fault is, said in anybody's own words, is taken and asked no more. */

test.each([
  ["Well, that's us walking home.", 'ground'],
  ["I'm not taking her up like that.", 'ground'],
  ["It'll do till the next inspection.", 'defer'],
  ['Put it in the book, nothing more.', 'note'],
])('"%s" answers how bad it is: %s', async (words, severity) => {
  const pilot = await pilotOn();
  expect((await pilot.say('front cross tube has corrosion')).question).toMatch(/ground it/);
  const came = await pilot.say(words);
  expect(came.question).toBeNull();
  expect(pilot.findings()).toMatchObject([{ check: 'cross-tubes', severity, severityBy: 'said' }]);
});

test.each(['Would you fly with that?', 'Last summer we grounded one for less.'])(
  'R2: "%s" leaves the question open',
  async (words) => {
    const pilot = await pilotOn();
    await pilot.say('front cross tube has corrosion');
    await pilot.say(words);
    expect(pilot.findings()).toMatchObject([{ check: 'cross-tubes', severity: null }]);
  },
);

test('said behind a fault that nobody is asked about, it goes to that fault', async () => {
  const pilot = await pilotOn();
  await pilot.say('left skid tube is cracked');
  await pilot.say("I'm not taking her up like that.");
  expect(pilot.findings()).toMatchObject([{ check: 'skid-tubes', severity: 'ground' }]);
});
