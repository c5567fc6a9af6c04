import { expect, test } from 'vitest';
import { pilotOn } from './pilot.ts';

/* "Hang on" asks for a moment, and whoever says it mostly just goes on. "Hold" stands until "resume". */

test.each(['hang on', 'one second', 'bear with me', 'hold on a moment'])(
  '"%s" is ended by the next plain result, which counts',
  async (moment) => {
    const pilot = await pilotOn();
    await pilot.say(moment);
    expect(pilot.view().coverage.held).toBe(true);
    await pilot.say('left skid tube is good');
    await pilot.say('right skid tube is good');
    expect(pilot.view().coverage.held).toBe(false);
    expect(pilot.standing('skid-tubes')).toBe('spoken');
  },
);

test.each(['hold', 'hold the walk', 'pause', 'stop listening'])(
  '"%s" stands, and nothing good counts before "resume" (R2)',
  async (hold) => {
    const pilot = await pilotOn();
    await pilot.say(hold);
    await pilot.say('left skid tube is good');
    await pilot.say('right skid tube is good');
    expect(pilot.view().coverage.held).toBe(true);
    expect(pilot.standing('skid-tubes')).not.toBe('spoken');
    await pilot.say('resume');
    await pilot.say('skid tubes good, both of them');
    expect(pilot.standing('skid-tubes')).toBe('spoken');
  },
);

test.each(["yes, I'm at the field, call you later", 'was the left skid tube good last week?'])(
  'R2 talk does not end a moment: %s',
  async (talk) => {
    const pilot = await pilotOn();
    await pilot.say('hang on');
    await pilot.say(talk);
    expect(pilot.view().coverage.held).toBe(true);
  },
);

test('"hang on", and then "hold": the longer one stands', async () => {
  const pilot = await pilotOn();
  await pilot.say('hang on');
  await pilot.say('hold');
  await pilot.say('left skid tube is good');
  expect(pilot.view().coverage.held).toBe(true);
});

test('a walk to a station ends a moment too', async () => {
  const pilot = await pilotOn();
  await pilot.say('hang on');
  await pilot.say('now the tail boom');
  expect(pilot.view().coverage.held).toBe(false);
});
