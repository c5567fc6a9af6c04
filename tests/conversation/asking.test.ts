import { expect, test } from 'vitest';
import { pilotOn } from './pilot.ts';

/* A question is worth a breath only when its answer changes the sheet. */

test.each([
  ['which side', 'skid tube is cracked', /Left or right skid tubes\?/],
  ['which unit', 'oil level is five', /five what\?/],
  [
    'how bad, where the catalogue proposes nothing',
    'front cross tube has corrosion',
    /ground it, defer it/,
  ],
])('what decides about a finding is asked at once: %s', async (_, words, question) => {
  const pilot = await pilotOn();
  const came = await pilot.say(words);
  expect(came.question).toMatch(question);
  expect(came.spoken).toMatch(question);
});

test('a severity that the catalogue proposes is shown and read as proposed, not asked', async () => {
  const pilot = await pilotOn();
  const came = await pilot.say('left skid tube is cracked');
  expect(came.question).toBeNull();
  expect(came.spoken).toContain('Usually: ground it');
  expect(pilot.findings()).toMatchObject([{ severity: 'ground', severityBy: 'sign' }]);
});

test('the rest waits for the end of the station and is asked in one go: "Drive, two things: …"', async () => {
  const pilot = await pilotOn();
  for (const words of ['drive belts good', 'I think the fan is good'])
    expect((await pilot.say(words)).question).toBeNull();
  // R5: meanwhile it does not count.
  expect(pilot.standing('cooling-fan')).toBe('part');
  const came = await pilot.say('left skid tube is good');
  expect(came.question).toBe('Drive, two things: both drive belts good, cooling fan good. Right?');
  expect(came.spoken).toContain('Drive, two things');
  const answered = await pilot.say('yes');
  expect(answered.question).toBeNull();
  expect(pilot.standing('cooling-fan')).not.toBe('question');
  expect(answered.statements).toMatchObject([
    { about: { check: 'drive-belts', which: { how: 'all' } }, verdict: { good: true } },
    { about: { check: 'cooling-fan' }, verdict: { good: true } },
  ]);
  // And nobody was carried back to the station that was left.
  expect(answered.view.station).toBe('skids');
});

test('"what\'s left" asks what waits, beside its answer', async () => {
  const pilot = await pilotOn();
  await pilot.say('drive belts good');
  const came = await pilot.say("what's left");
  expect(came.question).toBe('Drive, one thing: both drive belts good. Right?');
  expect(came.spoken).toMatch(/\d+ left: /);
});

test.each([
  ['all but the belts', ['cooling-fan']],
  ['only the fan', ['cooling-fan']],
  ['the second one', ['cooling-fan']],
  ['both good', ['drive-belts', 'cooling-fan']],
])('of two things that waited, %s', async (answer, good) => {
  const pilot = await pilotOn();
  await pilot.say('drive belts good');
  await pilot.say('I think the fan is good');
  await pilot.say('left skid tube is good');
  const came = await pilot.say(answer);
  const said = came.statements.flatMap((s) =>
    s.kind === 'observation' && s.about.kind === 'check' && s.verdict?.good === true
      ? [s.about.check]
      : [],
  );
  expect(said).toEqual(good);
});

test('a no leaves what waited unspoken, and nothing becomes good', async () => {
  const pilot = await pilotOn();
  await pilot.say('drive belts good');
  await pilot.say("what's left");
  const came = await pilot.say('no');
  expect(came.question).toBeNull();
  expect(pilot.standing('drive-belts')).toBe('unspoken');
});

test('what was said again without a doubt is not asked about', async () => {
  const pilot = await pilotOn();
  await pilot.say('drive belts good');
  await pilot.say('both drive belts good');
  expect((await pilot.say('left skid tube is good')).question).toBeNull();
});

test('what sounds like a fault is asked about at once, and a good said later does not settle it', async () => {
  const pilot = await pilotOn();
  await pilot.say('both drive belts good');
  const came = await pilot.say('fan does not look right to me');
  expect(came.question).toContain('Cooling fan');
  await pilot.say('cooling fan is good');
  expect(pilot.findings()).toMatchObject([{ check: 'cooling-fan' }]);
});

test('a detail told before the side leaves the side to be asked, and stays with the fault', async () => {
  const pilot = await pilotOn();
  expect((await pilot.say('skid tube has a crack')).question).toBe('Left or right skid tubes?');
  expect((await pilot.say('about an inch')).question).toBe('Left or right skid tubes?');
  await pilot.say('left');
  expect(pilot.findings()).toMatchObject([
    { instances: ['left'], conditions: [{ condition: 'crack', size: 'about an inch' }] },
  ]);
});

// Found by use: at the switches "the exhaust is cracked" was a crack in the master switch.
test.each(['exhaust is cracked', 'the chimney is cracked', 'gearbox is leaking'])(
  '15: "%s" said elsewhere is no fault of what nobody named, and is not lost (R4, R5)',
  async (words) => {
    const pilot = await pilotOn();
    await pilot.say('magneto switch off');
    const came = await pilot.say(words);
    expect(pilot.findings().filter((f) => /switch/.test(f.check ?? ''))).toEqual([]);
    expect(came.question).toMatch(/exhaust|gearbox/i);
  },
);
