import { expect, test } from 'vitest';
import { pilotOn } from './pilot.ts';

/* What is said goes where it belongs: through the whole house, as a pilot would say it. */

test('a detail belongs to what it details: "Left flap has a crack" – "inboard end, about an inch"', async () => {
  const pilot = await pilotOn('training-aeroplane');
  await pilot.say('Left flap has a crack.');
  const came = await pilot.say('Inboard end, about an inch.');
  expect(pilot.findings()).toMatchObject([
    {
      check: 'left-flap',
      conditions: [{ condition: 'crack', place: 'Inboard end', size: 'about an inch' }],
    },
  ]);
  expect(came.view.station).toBe('left-trailing');
  expect(came.spoken).toContain('crack, Inboard end, about an inch');
  await pilot.say('two of them');
  expect(pilot.findings()[0]?.conditions[0]).toMatchObject({ extent: { count: 2 } });
  await pilot.say('quite deep');
  expect(pilot.findings()[0]?.conditions[0]).toMatchObject({ degree: 'severe' });
  expect(pilot.findings()).toHaveLength(1);
});

test.each([
  [
    'where it is measured from',
    'left aileron has a dent',
    'two inches aft of the second rib',
    { place: 'two inches aft of the second rib' },
  ],
  ['a size alone', 'left flap has a crack', 'half an inch', { size: 'half an inch' }],
  [
    'size and place in one',
    'right tyre is worn',
    'about two inches wide on the outer edge',
    { size: 'about two inches wide', place: 'on the outer edge' },
  ],
])('a detail: %s', async (_, fault, detail, wanted) => {
  const pilot = await pilotOn('training-aeroplane');
  await pilot.say(fault);
  await pilot.say(detail);
  expect(pilot.findings()).toHaveLength(1);
  expect(pilot.findings()[0]?.conditions[0]).toMatchObject(wanted);
});

test.each([
  ['a verdict', 'the right flap is good'],
  ['another fault', 'left aileron has a dent'],
  ['going on', 'on to the tail'],
])('no detail: %s', async (_, words) => {
  const pilot = await pilotOn('training-aeroplane');
  await pilot.say('left flap has a crack');
  await pilot.say(words);
  expect(pilot.findings()[0]?.conditions[0]).toMatchObject({ condition: 'crack', place: null });
});

test('a unit or number alone never carries anybody to another station', async () => {
  const pilot = await pilotOn();
  await pilot.say('left skid tube is good');
  const came = await pilot.say('six quarts');
  expect(came.view.station).toBe('skids');
  expect(pilot.standing('oil-level')).toBe('unspoken');
  expect(came.statements.some((s) => s.kind === 'observation')).toBe(false);
});

test('"Take that back" takes back the last utterance that changed anything, whole, and says what; said again, the one before', async () => {
  const pilot = await pilotOn();
  await pilot.say('left skid tube has a crack');
  await pilot.say('drive belts both good, magneto switch off');
  expect(pilot.standing('magneto-switch')).toBe('spoken');
  // Talk in between changes nothing and is nothing to take back.
  await pilot.say('lovely morning for it');
  const first = await pilot.say('take that back');
  expect(first.spoken).toContain('Taken back: drive belts both good, magneto switch off');
  expect(pilot.standing('magneto-switch')).toBe('unspoken');
  expect(pilot.standing('drive-belts')).toBe('unspoken');
  expect(pilot.findings()).toHaveLength(1);
  const second = await pilot.say('take that back');
  expect(second.spoken).toContain('Taken back: left skid tube has a crack');
  expect(pilot.findings()).toHaveLength(0);
  const third = await pilot.say('take that back');
  expect(third.statements).toMatchObject([{ kind: 'not-understood' }]);
});

test.each(['we had a hard landing yesterday', 'had a hard landing last flight', 'hard landing'])(
  'what happened to the aircraft is not pinned to the last named part: %s',
  async (words) => {
    const pilot = await pilotOn();
    await pilot.say('drive belts good');
    await pilot.say(words);
    expect(pilot.findings()).toMatchObject([{ check: null, happened: true, severity: 'ground' }]);
    expect(pilot.demanded()).toEqual(
      expect.arrayContaining(['cross-tube-spread', 'boom-attach-bolts', 'mount-bolts']),
    );
  },
);

test.each([
  'after a hard landing you would look at the cross tubes',
  "if we'd had a hard landing it would show here",
  'did we have a hard landing?',
  'no hard landing',
])('R2 what is taught, supposed, asked or denied did not happen: %s', async (words) => {
  const pilot = await pilotOn();
  await pilot.say('left skid tube good');
  await pilot.say(words);
  expect(pilot.findings()).toEqual([]);
  expect(pilot.demanded()).toEqual([]);
});

test('what happened and a fault in one breath are both kept (R4)', async () => {
  const pilot = await pilotOn();
  await pilot.say('we had a lightning strike last week and the left skid tube is cracked');
  expect(pilot.findings().map((f) => f.check)).toEqual([null, 'skid-tubes']);
});

test('demanded follow-ups stay until maintenance is said to have cleared it, which is kept as said', async () => {
  const pilot = await pilotOn();
  await pilot.say('we had a hard landing yesterday');
  await pilot.say("maintenance hasn't cleared it yet");
  expect(pilot.demanded()).toContain('mount-bolts');
  const came = await pilot.say('maintenance has cleared it');
  expect(pilot.demanded()).toEqual([]);
  expect(came.spoken).toMatch(/Noted as said: cleared by maintenance/);
  // It is still on the sheet, with the words that cleared it.
  expect(pilot.findings()).toMatchObject([
    { happened: true, cleared: 'maintenance has cleared it' },
  ]);
  await pilot.say('take that back');
  expect(pilot.demanded()).toContain('mount-bolts');
});

test('a fault told at a demanded follow-up is a finding, never an intention', async () => {
  const pilot = await pilotOn();
  await pilot.say('we had a hard landing');
  await pilot.say('boom attach bolts are loose');
  await pilot.say('cross tubes are spread');
  // The bolts are on two lists here, and the words name both.
  expect(pilot.findings().map((f) => f.check)).toEqual(
    expect.arrayContaining(['boom-attach-bolts', 'cross-tube-spread', null]),
  );
});

test('what happened needs no check to be signed (R4 is about findings whose check is unclear)', async () => {
  const pilot = await pilotOn();
  await pilot.say('we had a hard landing');
  await pilot.house.finish();
  await pilot.house.decide('ground', 'A. Pilot', null, null);
  expect(await pilot.house.sign('A. Pilot', null)).toMatchObject({ ok: true });
});

test.each([
  ['that was the right one', 'left skid tube good'],
  ['no sorry, right', 'left skid tube good'],
  ['the right, not the left', 'left skid tube good'],
  ['not the left, the right', 'left skid tube good'],
])('a correction in any order of words: %s', async (words, said) => {
  const pilot = await pilotOn();
  await pilot.say(said);
  const came = await pilot.say(words);
  expect(came.statements).toMatchObject([
    { about: { check: 'skid-tubes', which: { instances: ['right'] } }, verdict: { good: true } },
  ]);
});

test('"that was the right one" finds the twin that is a check of its own', async () => {
  const pilot = await pilotOn('training-aeroplane');
  await pilot.say('left flap has a crack');
  await pilot.say('that was the right one');
  expect(pilot.findings()).toMatchObject([{ check: 'right-flap' }]);
});

test('"make it 24": the number is corrected, its unit stays and is marked as supplied', async () => {
  const pilot = await pilotOn();
  await pilot.say('oil is five quarts');
  const came = await pilot.say('make it 24');
  expect(came.question).toBeNull();
  expect(came.statements).toMatchObject([
    { values: [{ low: 24, unit: '[qt_us]', trouble: null, supplied: true }] },
  ]);
  // R8: outside its limit.
  expect(pilot.findings()).toMatchObject([{ check: 'oil-level' }]);
  await pilot.say('no, five and a half');
  expect(pilot.findings()).toEqual([]);
});

test('"not the cap, the drain": what was found goes to the other one, or is asked which (R5)', async () => {
  const pilot = await pilotOn();
  await pilot.say('main fuel cap is leaking');
  const came = await pilot.say('not the cap, the drain');
  expect(came.question).toMatch(/gascolator/i);
  const cap = pilot.view().coverage.findings.filter((f) => f.check === 'main-fuel-cap');
  expect(cap.every((f) => f.settled === 'taken-back')).toBe(true);
  await pilot.say('the gascolator');
  expect(pilot.findings()).toMatchObject([
    { check: 'gascolator', conditions: [{ condition: 'leak' }] },
  ]);
});
