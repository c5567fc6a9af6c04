import { expect, test } from 'vitest';
import { pilotOn } from './pilot.ts';

/* Issue 15, "Asking": what was offered is always taken, and nothing is asked twice. */

test('"it is good" to how bad it is takes the fault back, in its words (R6); a bare "good" clears nothing', async () => {
  const pilot = await pilotOn();
  const asked = await pilot.say('front cross tube has corrosion');
  expect(asked.question).toMatch(/ground it, defer it/);
  await pilot.say('good');
  expect(pilot.findings()).toHaveLength(1);
  await pilot.say('no, it is good');
  expect(pilot.findings()).toEqual([]);
  expect(pilot.view().coverage.findings).toMatchObject([{ settled: 'taken-back' }]);
  expect(pilot.view().question).toBeNull();
});

test('"nothing" to which side takes back what was asked about (R4: in its words)', async () => {
  const pilot = await pilotOn();
  expect((await pilot.say('skid tube is cracked')).question).toBe('Left or right skid tubes?');
  const came = await pilot.say('nothing');
  expect(came.question).toBeNull();
  expect(pilot.view().coverage.findings).toMatchObject([
    { settled: 'taken-back', words: 'skid tube is cracked' },
  ]);
});

test('"watch it" to good or something wrong says that it is wrong, and how bad: asked once, not twice', async () => {
  const pilot = await pilotOn();
  expect((await pilot.say('fan does not look right to me')).question).toMatch(
    /good, or something wrong\?|ground it/,
  );
  const came = await pilot.say('watch it');
  expect(came.question).toBeNull();
  expect(pilot.findings()).toMatchObject([{ check: 'cooling-fan', severity: 'watch' }]);
});

test.each(['front cross tube has corrosion', 'skid tube is cracked', 'oil level is five'])(
  'R5 "neither" picks nothing and finds nothing: %s',
  async (words) => {
    const pilot = await pilotOn();
    const { question } = await pilot.say(words);
    expect(question).not.toBeNull();
    const found = pilot.findings().length;
    const came = await pilot.say('neither');
    expect(came.question).toBe(question);
    expect(came.statements).toMatchObject([{ kind: 'not-understood', chatter: false }]);
    expect(pilot.findings()).toHaveLength(found);
  },
);

test('"not the front cross tube, the rear one" – a correction answers what was asked about, with something else behind it', async () => {
  const pilot = await pilotOn('training-aeroplane');
  const asked = await pilot.say('left flap has a scratch');
  const came = await pilot.say('Not the left flap, the right flap. Pitot cover is off.');
  expect(asked.statements).toHaveLength(1);
  expect(pilot.findings()).toMatchObject([{ check: 'right-flap' }]);
  expect(
    came.statements.flatMap((s) =>
      s.kind === 'observation' && s.about.kind === 'check' ? [s.about.check] : [],
    )[0],
  ).toBe('right-flap');
});

test('a fault told in a hold is rated in the hold: its answer is for us (R4), and a good is not', async () => {
  const pilot = await pilotOn();
  await pilot.say('hold');
  expect((await pilot.say('front cross tube has corrosion')).question).toMatch(/ground it/);
  const came = await pilot.say('watch it');
  expect(came.question).toBeNull();
  expect(pilot.findings()).toMatchObject([{ severity: 'watch' }]);
});

test('one thing that waits at a station is asked with others at "what\'s left", and told once', async () => {
  const pilot = await pilotOn();
  await pilot.say('drive belts good');
  await pilot.say('drive belts good');
  expect((await pilot.say('left skid tube is good')).question).toBeNull();
  // R5: meanwhile it does not count.
  expect(pilot.standing('drive-belts')).not.toBe('spoken');
  const came = await pilot.say("what's left");
  expect(came.question).toBe('Drive, one thing: both drive belts good. Right?');
  await pilot.say('yes');
  expect(pilot.view().question).toBeNull();
});

test('the same fault in other words is neither asked about nor found twice', async () => {
  const pilot = await pilotOn();
  await pilot.say('front cross tube has corrosion');
  await pilot.say('watch it');
  const came = await pilot.say('front cross tube is corroded');
  expect(came.question).toBeNull();
  expect(pilot.findings()).toHaveLength(1);
});
