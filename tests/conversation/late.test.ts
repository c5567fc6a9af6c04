import { expect, test } from 'vitest';
import { pilotOn } from './pilot.ts';

/* Issue 15, "Asking": an answer that comes after other things were said, its question put aside. */

test('"quarts" after the next question: the number has its unit, and no fault is told twice', async () => {
  const pilot = await pilotOn();
  await pilot.say('oil level is five');
  expect((await pilot.say('skid tube is cracked')).question).toBe('Left or right skid tubes?');
  const came = await pilot.say('quarts');
  expect(came.statements).toMatchObject([
    { about: { check: 'oil-level' }, values: [{ low: 5, unit: '[qt_us]', trouble: null }] },
  ]);
  expect(came.question).toBe('Left or right skid tubes?');
  expect(pilot.findings()).toHaveLength(1);
  // What was asked about before carries nobody back to it.
  expect(came.view.station).toBe('skids');
  await pilot.say('left');
  expect(pilot.findings()).toMatchObject([{ check: 'skid-tubes', instances: ['left'] }]);
});

test.each(['the right one', 'the right', 'right side', 'um, the right one I think'])(
  '"Left or right?" put aside by how bad the next fault is: %s',
  async (answer) => {
    const pilot = await pilotOn();
    await pilot.say('skid tube is cracked');
    expect((await pilot.say('front cross tube has corrosion')).question).toMatch(/ground it/);
    const came = await pilot.say(answer);
    const tube = pilot.findings().find((f) => f.check === 'skid-tubes');
    expect(tube?.instances).toEqual(['right']);
    expect(came.question).toMatch(/Front cross tube, corrosion/);
  },
);

test('how bad, asked and put aside, is told late: the words offered are of the question that offered them', async () => {
  const pilot = await pilotOn();
  await pilot.say('front cross tube has corrosion');
  await pilot.say('gear strut is cracked');
  await pilot.say('left front');
  await pilot.say('cyclic friction good');
  await pilot.say('watch it');
  expect(pilot.findings()).toEqual(
    expect.arrayContaining([
      expect.objectContaining({ check: 'cross-tubes', severity: 'watch' }),
      expect.objectContaining({ check: 'gear-struts', severity: 'ground', severityBy: 'sign' }),
    ]),
  );
});

test.each(['yes', 'good', 'right', 'two', 'the second one', 'left skid shoe is good'])(
  'R5 no late answer: %s',
  async (words) => {
    const pilot = await pilotOn();
    await pilot.say('skid tube is cracked');
    await pilot.say('front cross tube has corrosion');
    await pilot.say('watch it');
    await pilot.say('master switch off');
    await pilot.say(words);
    expect(pilot.findings().find((f) => f.check === 'skid-tubes')?.instances).toEqual([]);
  },
);

test('R4 a rating said with its own fault is not taken for the answer about another one', async () => {
  for (const words of [
    'left skid tube is cracked, defer it',
    'left skid tube is cracked. Defer it.',
  ]) {
    const pilot = await pilotOn();
    await pilot.say('front cross tube has corrosion');
    const came = await pilot.say(words);
    expect(came.question, words).toMatch(/Front cross tube, corrosion/);
    expect(pilot.findings(), words).toEqual(
      expect.arrayContaining([
        expect.objectContaining({ check: 'skid-tubes', severity: 'defer' }),
        expect.objectContaining({ check: 'cross-tubes', severity: null }),
      ]),
    );
  }
});

test('R6 a good behind a fault clears nothing that was asked about', async () => {
  const pilot = await pilotOn();
  await pilot.say('front cross tube has corrosion');
  await pilot.say('left skid tube is cracked, it is good');
  expect(pilot.findings().map((f) => f.check)).toContain('cross-tubes');
});

test('R6 a yes to what waited says nothing of what was found at one of them since', async () => {
  const pilot = await pilotOn();
  await pilot.say('drive belts good');
  await pilot.say('I think the fan is good');
  expect((await pilot.say('left skid tube is good')).question).toMatch(/two things/);
  await pilot.say('the fan is cracked');
  const came = await pilot.say('yes');
  expect(came.statements).toMatchObject([{ about: { check: 'drive-belts' } }]);
  expect(pilot.findings()).toMatchObject([{ check: 'cooling-fan', settled: 'stands' }]);
});

test.each([
  ['the front ones', ['left front', 'right front']],
  ['both fronts', ['left front', 'right front']],
  ['both on the left', ['left front', 'left rear']],
  ['the rear left', ['left rear']],
  ['the third one', ['right front']],
  ['all four', ['left front', 'left rear', 'right front', 'right rear']],
  ['left front, no, right front', ['right front']],
])('of four places: %s', async (answer, places) => {
  const pilot = await pilotOn();
  await pilot.say('gear strut is cracked');
  await pilot.say(answer);
  expect(pilot.findings()).toMatchObject([{ instances: places }]);
});

test('R5 half of a place picks none and is no detail; with the other half it is told', async () => {
  const pilot = await pilotOn();
  const { question } = await pilot.say('gear strut is cracked');
  expect((await pilot.say('front')).question).toBe(question);
  expect(pilot.findings()).toMatchObject([{ instances: [], conditions: [{ place: null }] }]);
  await pilot.say('left');
  expect(pilot.findings()).toMatchObject([{ instances: ['left front'] }]);
});

test('R8 "the second one" to a unit changes no number, and the unit is asked for still', async () => {
  const pilot = await pilotOn();
  const { question } = await pilot.say('oil level is five');
  expect((await pilot.say('the second one')).question).toBe(question);
  const came = await pilot.say('quarts');
  expect(came.statements).toMatchObject([{ values: [{ low: 5, unit: '[qt_us]' }] }]);
});

test('a mandatory safety item that was not sure is asked about at once, and does not wait', async () => {
  const pilot = await pilotOn();
  await pilot.say('front cross tube has corrosion');
  const came = await pilot.say('just note it please, master switch is off');
  if (pilot.standing('master-switch') !== 'spoken') expect(came.question).toMatch(/Master switch/);
  if (came.question !== null) await pilot.say('yes');
  expect(pilot.standing('master-switch')).toBe('spoken');
});
