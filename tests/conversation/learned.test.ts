import { expect, test } from 'vitest';
import type { LearnedServices, Services } from '#screens';
import { houseFor, testWorld } from '../wire/house.ts';
import { pilotOn } from './pilot.ts';

/* What was learned is asked once, and is seen, undone, given away and brought in. */

const learnedBy = (house: Services): LearnedServices => {
  if (house.learned === undefined) throw new Error('Nothing is learned.');
  return house.learned;
};
const book = async (house: Services, aircraft = 'Rowan 2') => {
  const outcome = await learnedBy(house).book(aircraft);
  if (!outcome.ok) throw new Error(outcome.error);
  return outcome.value;
};
const CORRODED = 'front cross tube has corrosion';

test('how bad it was called is proposed the next time, "as you rated it on …", and not asked', async () => {
  const world = testWorld('2026-03-01T08:00:00Z');
  const within = await houseFor(world);
  const pilot = await pilotOn('training-helicopter', { world, within });
  expect((await pilot.say(CORRODED)).question).toMatch(/ground it, defer it/);
  await pilot.say('watch it');
  world.pass(24 * 3600);
  const next = await pilotOn('training-helicopter', { world, within });
  const came = await next.say(CORRODED);
  expect(came.question).toBeNull();
  expect(came.spoken).toContain('Watch it, as you rated it on 1 March');
  expect(next.findings()).toMatchObject([
    { severity: 'watch', severityBy: 'before', ratedOn: '2026-03-01' },
  ]);
  // What is said now counts, and is what is proposed from then on.
  await next.say('defer it');
  expect(next.findings()).toMatchObject([{ severity: 'defer', severityBy: 'said' }]);
  const third = await pilotOn('training-helicopter', { world, within });
  await third.say(CORRODED);
  expect(third.findings()).toMatchObject([{ severity: 'defer', severityBy: 'before' }]);
  // Another speaker is asked.
  const other = await pilotOn('training-helicopter', { world, within, name: 'B. Pilot' });
  expect((await other.say(CORRODED)).question).toMatch(/ground it, defer it/);
});

test.each([
  ['more of it', 'front cross tube has severe corrosion'],
  ['a size that was not rated', `${CORRODED}, about two inches`],
  ['another fault', 'front cross tube is dented'],
])('what was rated is asked about anew for %s', async (_, words) => {
  const world = testWorld('2026-03-01T08:00:00Z');
  const within = await houseFor(world);
  const pilot = await pilotOn('training-helicopter', { world, within });
  await pilot.say(CORRODED);
  await pilot.say('note it');
  const next = await pilotOn('training-helicopter', { world, within });
  await next.say(words);
  expect(next.findings().filter((f) => f.severityBy === 'before')).toEqual([]);
});

test('what the catalogue grounds is never called milder by what was said before', async () => {
  const world = testWorld('2026-03-01T08:00:00Z');
  const within = await houseFor(world);
  const pilot = await pilotOn('training-helicopter', { world, within });
  await pilot.say('left skid tube is cracked, note it');
  expect((await book(pilot.house)).lines).toEqual([]);
  const next = await pilotOn('training-helicopter', { world, within });
  await next.say('left skid tube is cracked');
  expect(next.findings()).toMatchObject([{ severity: 'ground', severityBy: 'sign' }]);
});

test('R4 "nothing" takes back what was asked about, in its words; said twice of a sentence, it is asked no more', async () => {
  const world = testWorld('2026-03-01T08:00:00Z');
  const within = await houseFor(world);
  const words = 'my back is stiff today';
  for (const walk of [1, 2]) {
    const pilot = await pilotOn('training-helicopter', { world, within });
    await pilot.say('left skid tube is good');
    expect((await pilot.say(words)).question, `walk ${walk}`).toMatch(/stiff: ground it/);
    const came = await pilot.say('that was just talk');
    expect(came.question).toBeNull();
    expect(came.statements).toMatchObject([{ kind: 'retraction', words }]);
    expect(came.spoken).toContain('Taken back: my back is stiff today');
    expect(pilot.findings()).toEqual([]);
  }
  const third = await pilotOn('training-helicopter', { world, within });
  await third.say('left skid tube is good');
  const came = await third.say(words);
  expect(came.question).toBeNull();
  expect(third.findings()).toEqual([]);
  expect(came.statements[0]?.why.join(' ')).toContain('learned from you');
  // A miss: the same words with anything beside them are asked about.
  expect((await third.say('my back is stiff today and the skid tube too')).question).not.toBeNull();
});

test('"take that back" and a plain no teach nothing harmless', async () => {
  const pilot = await pilotOn();
  await pilot.say('the doodah is bent');
  await pilot.say('take that back');
  await pilot.say('I think the fan is good');
  await pilot.say('left skid tube is good');
  await pilot.say('no');
  expect((await book(pilot.house)).lines).toEqual([]);
});

test('everything learned is seen with what told it, forgotten by a press, and learned again', async () => {
  const pilot = await pilotOn();
  await pilot.say(CORRODED);
  await pilot.say('watch it');
  const { lines } = await book(pilot.house);
  expect(lines).toMatchObject([
    { phrase: 'corrosion', on: '2026-03-01', told: 'watch it', speaker: 'A. Pilot' },
  ]);
  expect(lines[0]?.means).toMatch(/cross tube.*: watch it$/);
  expect(lines[0]?.asked).toMatch(/ground it, defer it/);
  await pilot.house.forget?.(lines[0]?.id ?? '', 'Rowan 2');
  expect(await book(pilot.house)).toMatchObject({
    lines: [],
    forgotten: [{ phrase: 'corrosion' }],
  });
  await learnedBy(pilot.house).remember(lines[0]?.id ?? '', 'Rowan 2');
  expect(await book(pilot.house)).toEqual({ lines, forgotten: [] });
});

test('forgetting a word forgets every meaning that it was told', async () => {
  const pilot = await pilotOn();
  for (const check of ['tail-skid', 'skid-shoes']) {
    await pilot.say(`the pogo stick is ${check === 'tail-skid' ? 'bent' : 'cracked'}`);
    await pilot.house.putOn?.(pilot.view().lately?.at(-1)?.event ?? '', check);
  }
  const { lines } = await book(pilot.house);
  const pogo = lines.filter((l) => l.phrase === 'pogo stick');
  expect(pogo).toHaveLength(1);
  await pilot.house.forget?.(pogo[0]?.id ?? '', 'Rowan 2');
  expect((await book(pilot.house)).lines.filter((l) => l.phrase === 'pogo stick')).toEqual([]);
});

async function given(house: Services): Promise<File> {
  const outcome = await learnedBy(house).give('Rowan 2');
  if (!outcome.ok) throw new Error(outcome.error);
  return new File([await outcome.value.blob.text()], outcome.value.name);
}

test('a phrasebook travels: given away, brought in on another device, and understood there', async () => {
  const pilot = await pilotOn();
  await pilot.say('the pogo stick is bent');
  await pilot.house.putOn?.(pilot.view().lately?.at(-1)?.event ?? '', 'tail-skid');
  await pilot.say('main fuel sample is gin clear');
  await pilot.say("what's left");
  await pilot.say('yes');
  const file = await given(pilot.house);
  expect(file.name).toBe('Rowan-2-phrasebook.json');

  const world = testWorld('2026-04-01T08:00:00Z');
  const within = await houseFor(world);
  const taken = await learnedBy(within.house).take(file);
  // Nothing is learned to be good without a yes.
  expect(taken).toMatchObject({ ok: true, value: { asks: [{ phrase: 'gin clear' }] } });
  expect((await book(within.house)).lines.map((l) => l.phrase)).not.toContain('gin clear');
  const other = await pilotOn('training-helicopter', { world, within });
  const came = await other.say('the pogo stick is cracked');
  expect(came.statements).toMatchObject([{ about: { check: 'tail-skid' } }]);
  // The day on which it was learned came with it.
  expect(came.statements[0]?.why.join(' ')).toContain('on 2026-03-01');
  await learnedBy(within.house).take(file, true);
  expect((await book(within.house)).lines.map((l) => l.phrase)).toContain('gin clear');
  // A second time brings nothing new.
  const again = await learnedBy(within.house).take(file, true);
  expect(again).toMatchObject({ ok: true, value: { asks: [] } });
  expect(again.ok && again.value.text).toMatch(/0 phrases brought in, \d+ known before/);
});

test('a dropped phrasebook is known by what it says, and what was forgotten here stays forgotten', async () => {
  const pilot = await pilotOn();
  await pilot.say('the pogo stick is bent');
  await pilot.house.putOn?.(pilot.view().lately?.at(-1)?.event ?? '', 'tail-skid');
  const file = await given(pilot.house);
  const { lines } = await book(pilot.house);
  await pilot.house.forget?.(lines[0]?.id ?? '', 'Rowan 2');
  const came = await pilot.house.bringIn(file, null, () => undefined);
  expect(came).toMatchObject({ ok: true, value: { go: '/learned/Rowan%202', walk: null } });
  expect((await book(pilot.house)).lines).toEqual([]);
  // And what is forgotten here is forgotten there, too.
  const second = await houseFor(testWorld('2026-04-01T08:00:00Z'));
  await learnedBy(second.house).take(file, true);
  await learnedBy(second.house).take(await given(pilot.house), true);
  expect(await book(second.house)).toMatchObject({ lines: [], forgotten: [{}] });
});

test.each([
  ['{"format":"talkround-phrasebook","v":1', 'not whole'],
  ['{"format":"talkround-phrasebook","v":9}', 'format 9'],
  ['{"format":"talkround-phrasebook","v":1,"made":0}', 'not readable at'],
  ['hello', 'is no phrasebook'],
])('a file that is none is refused in one sentence and changes nothing: %s', async (text, why) => {
  const { house } = await houseFor(testWorld('2026-04-01T08:00:00Z'));
  const outcome = await learnedBy(house).take(new File([text], 'x.json'));
  expect(outcome).toMatchObject({ ok: false });
  expect(!outcome.ok && outcome.error).toContain(why);
  expect(await book(house)).toEqual({ lines: [], forgotten: [] });
});
