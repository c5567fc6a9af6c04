import { expect, test } from 'vitest';
import { Check } from '#shared/catalogue';
import { tokensOf } from '../../grammar/tokens.ts';
import { onlyUnit } from '../../grammar/units.ts';
import { valuesOf } from '../../grammar/values.ts';
import { CATALOGUE as TRIAL } from '../speak/fixture.ts';
import { pilotOn } from './pilot.ts';

/* What was offered is taken, however it is said: through the whole house. */

const crack = (pilot: Awaited<ReturnType<typeof pilotOn>>) =>
  pilot.findings().find((f) => f.check === 'skid-tubes')?.instances;

test.each([
  ['the second one', ['right']],
  ['the left', ['left']],
  ['Left.', ['left']],
  ['um, the left one I think', ['left']],
  ['number two', ['right']],
  ['the first', ['left']],
  ['the latter', ['right']],
  ['both', ['left', 'right']],
  ['left, master switch off', ['left']],
  ['master switch off, the left one', ['left']],
])('"Left or right skid tubes?" is answered by: %s', async (answer, places) => {
  const pilot = await pilotOn();
  expect((await pilot.say('skid tube is cracked')).question).toBe('Left or right skid tubes?');
  const came = await pilot.say(answer);
  expect(crack(pilot)).toEqual(places);
  expect(came.question).toBeNull();
  if (answer.includes('master')) expect(pilot.standing('master-switch')).toBe('spoken');
});

test.each(['neither', "don't know"])(
  '%s leaves the question open and the finding stands',
  async (answer) => {
    const pilot = await pilotOn();
    await pilot.say('skid tube is cracked');
    const came = await pilot.say(answer);
    expect(came.question).toBe('Left or right skid tubes?');
    expect(crack(pilot)).toEqual([]);
  },
);

test('an answer that comes late is taken all the same', async () => {
  const pilot = await pilotOn();
  await pilot.say('skid tube is cracked');
  await pilot.say('master switch off');
  await pilot.say('the second one');
  expect(crack(pilot)).toEqual(['right']);
  expect(pilot.findings()).toHaveLength(1);
});

test.each([
  ['watch it', 'watch'],
  ['the third', 'watch'],
  ['defer', 'defer'],
  ['number one', 'ground'],
])('a severity by its words, order or number: %s', async (answer, severity) => {
  const pilot = await pilotOn();
  expect((await pilot.say('front cross tube has corrosion')).question).toMatch(
    /ground it, defer it/,
  );
  await pilot.say(answer);
  expect(pilot.findings()).toMatchObject([{ severity }]);
});

test('R6 a bare yes turns no finding into a good one; the words offered settle it', async () => {
  const pilot = await pilotOn();
  await pilot.say('left skid tube is cracked');
  expect((await pilot.say('left skid tube is good')).question).toBe(
    'Left skid tube: cracked, or good?',
  );
  await pilot.say('yes');
  expect(pilot.findings()).toHaveLength(1);
  const came = await pilot.say('cracked');
  expect(came.question).toBeNull();
  expect(pilot.findings()).toMatchObject([{ settled: 'stands' }]);
});

test('the only unit that a measure can have is supplied and marked: nobody asks "24 what?"', () => {
  const check = Check.parse({
    id: 'battery',
    name: 'battery',
    measures: [{ id: 'voltage', name: 'voltage', unit: 'V', low: 24 }],
  });
  const { tokens, raw } = tokensOf({ text: 'battery twenty four', words: [] });
  const values = valuesOf(check, TRIAL, tokens, raw, 0, tokens.length, () => true);
  expect(values).toMatchObject([{ low: 24, unit: 'V', trouble: null, supplied: true }]);
  expect(onlyUnit({ unit: '[qt_us]' })).toBeNull();
  expect(onlyUnit({ unit: '[psi]' })).toBeNull();
});

test('R8 a unit that can be another is asked for, and "yes" to the one offered is taken', async () => {
  const pilot = await pilotOn();
  expect((await pilot.say('oil level is five')).question).toBe('Level: five what?');
  const came = await pilot.say('yes');
  expect(came.question).toBeNull();
  expect(came.statements).toMatchObject([{ values: [{ low: 5, unit: '[qt_us]', trouble: null }] }]);
});
