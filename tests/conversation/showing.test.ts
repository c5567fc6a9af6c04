import { expect, test } from 'vitest';
import { pilotOn } from './pilot.ts';

/* Nothing pretends to have heard: what became of each utterance is on the screen at once. */

test('an utterance that gave nothing replaces the last success at once', async () => {
  const pilot = await pilotOn();
  await pilot.say('left skid tube is cracked');
  expect(pilot.view().last).toMatchObject({ sort: 'finding' });
  await pilot.say('what a lovely morning');
  expect(pilot.view().last).toMatchObject({ words: 'what a lovely morning', sort: 'nothing' });
  const came = await pilot.say('six quarts');
  expect(pilot.view().last).toMatchObject({ words: 'six quarts', sort: 'not-understood' });
  expect(came.spoken).toContain('Say again');
});

test.each([
  ['six quarts', 'not-understood'],
  ['what a lovely morning', null],
  ['left skid tube is cracked', 'finding'],
  ['master switch off', 'understood'],
])('"%s" has its tone', async (words, tone) => {
  const pilot = await pilotOn();
  await pilot.say('skid shoes are good');
  await pilot.say(words);
  const events = await pilot.store.walk(pilot.view().id);
  const heard = events.findLast((e) => e.what.kind === 'heard')?.what;
  const id = heard?.kind === 'heard' ? heard.heard.id : '';
  const tones = events.flatMap((e) =>
    e.what.kind === 'replied' && e.what.answers === id ? [e.what.tone] : [],
  );
  expect(tones).toEqual(tone === null ? [] : [tone]);
});

test.each(["it's quarts", 'nobody is out here today', 'I had eggs this morning'])(
  'words that say nothing of a fault that stands do not tell it once more: %s',
  async (words) => {
    const pilot = await pilotOn();
    await pilot.say('left skid tube is cracked');
    await pilot.say(words);
    expect(pilot.view().last?.sort).not.toBe('finding');
    expect(pilot.findings()).toHaveLength(1);
  },
);

test.each([
  ['the doodlebug is cracked', 'R4 a fault of something that nobody knows'],
  ['oil level is five', 'R8 a value that was not understood'],
])('%s is never passed over as talk: %s', async (words) => {
  const pilot = await pilotOn('training-aeroplane');
  await pilot.say('right wing tip good');
  await pilot.say(words);
  expect(pilot.view().last?.sort).not.toBe('nothing');
});

test('R5 what may have been said to be good is shown as it stands on the sheet, and a doubted fault too', async () => {
  const pilot = await pilotOn();
  await pilot.say('I think the fan is good');
  expect(pilot.view().last?.made).toEqual([
    'cooling fan: part spoken, it may have been said to be good',
  ]);
  await pilot.say('Maybe the cooling fan is cracked.');
  expect(pilot.view().last?.made.join()).toContain('in question');
});

test('the last five utterances stay within reach with what became of each', async () => {
  const pilot = await pilotOn();
  for (const words of [
    'cabin',
    'master switch off',
    'nice day',
    'left skid tube is cracked',
    'what is left',
    'cyclic good',
  ])
    await pilot.say(words);
  const lately = pilot.view().lately ?? [];
  expect(lately.map((u) => u.words)).toEqual([
    'master switch off',
    'nice day',
    'left skid tube is cracked',
    'what is left',
    'cyclic good',
  ]);
  expect(lately.map((u) => u.changes)).toEqual([true, false, true, false, true]);
});

test('a touch takes one back, whichever it is, and says what', async () => {
  const pilot = await pilotOn();
  await pilot.say('left skid tube is cracked');
  await pilot.say('master switch off');
  const [cracked] = pilot.view().lately ?? [];
  pilot.spoken.length = 0;
  expect(await pilot.house.takeBack?.(cracked?.event ?? '')).toMatchObject({ ok: true });
  expect(pilot.findings()).toEqual([]);
  expect(pilot.standing('master-switch')).toBe('spoken');
  expect(pilot.view().lately?.find((u) => u.event === cracked?.event)?.taken).toBe(true);
  await new Promise((resolve) => setTimeout(resolve, 5));
  expect(pilot.spoken.join(' ')).toContain('Taken back: left skid tube is cracked');
});

test('a touch puts one on another check, and the fault goes with it (R4)', async () => {
  const pilot = await pilotOn();
  await pilot.say('left skid tube is cracked');
  const [cracked] = pilot.view().lately ?? [];
  expect(await pilot.house.putOn?.(cracked?.event ?? '', 'skid-shoes')).toMatchObject({ ok: true });
  expect(pilot.findings()).toMatchObject([
    { check: 'skid-shoes', conditions: [{ condition: 'crack' }] },
  ]);
});

test('"That was wrong" takes the whole last utterance that changed anything', async () => {
  const pilot = await pilotOn();
  await pilot.say('cyclic good, master switch off');
  await pilot.say('nice day');
  expect(await pilot.house.wrong()).toMatchObject({ ok: true });
  expect(pilot.standing('master-switch')).toBe('unspoken');
  expect(pilot.standing('cyclic')).toBe('unspoken');
});

test('mandatory safety items are confirmed aloud as such', async () => {
  const pilot = await pilotOn();
  expect((await pilot.say('magneto switch off')).spoken).toContain(
    'Safety item confirmed: magneto switch off',
  );
  expect((await pilot.say('master switch off')).spoken).toContain(
    'Safety item confirmed: master switch off',
  );
  expect((await pilot.say('cyclic good')).spoken).not.toContain('Safety item');
});
