import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { pilotOn } from './pilot.ts';

/*
 * Issue 15, in words that nobody had tried: ten pilots typed at a motor glider that is no starter,
 * whose stations are called like its checks. What fell was mended, and stays here.
 */

const source = readFileSync('tests/conversation/motor-glider.yaml', 'utf8');
const glider = () => pilotOn('motor-glider', { source, aircraft: 'Alder 4' });

test.each([
  [
    'the left gear leg has a crack',
    'inner side, roughly two centimetres',
    { condition: 'crack', place: 'inner side', size: 'roughly two centimetres' },
  ],
  [
    'left tyre has a cut',
    'outer sidewall, half an inch long',
    { condition: 'cut', place: 'outer sidewall', size: 'half an inch long' },
  ],
  [
    'elevator has a dent in it',
    'near the trailing edge, size of a thumbnail',
    { condition: 'dent', place: 'near the trailing edge', size: 'size of a thumbnail' },
  ],
  [
    "the exhaust pipe's got a crack",
    'around the upper weld and about ten millimetres long',
    { condition: 'crack', place: 'around the upper weld', size: 'about ten millimetres long' },
  ],
])('a detail belongs to what it details: "%s" – "%s"', async (fault, detail, condition) => {
  const pilot = await glider();
  await pilot.say(fault);
  await pilot.say(detail);
  expect(pilot.findings()).toHaveLength(1);
  expect(pilot.findings()).toMatchObject([{ conditions: [condition] }]);
});

test.each(['four litres', 'twelve volts', 'two bar'])(
  'a unit or number alone carries nobody to another station: %s',
  async (words) => {
    const pilot = await glider();
    await pilot.say('left wing tip good');
    const came = await pilot.say(words);
    expect(came.view.station).toBe('left-wing');
    expect(came.statements).toMatchObject([{ kind: 'not-understood', chatter: false }]);
  },
);

test.each([
  ['take that back', 'take that back'],
  ['scratch that', 'undo that'],
  ['no, forget that last one', 'and the one before too'],
])('the last utterance is taken back, and then the one before: "%s", "%s"', async (one, two) => {
  const pilot = await glider();
  await pilot.say('elevator has a crack');
  await pilot.say('canopy good and latched');
  await pilot.say('nice breeze today');
  expect((await pilot.say(one)).spoken).toContain('Taken back: canopy good and latched');
  expect(pilot.findings()).toHaveLength(1);
  expect((await pilot.say(two)).spoken).toContain('Taken back: elevator has a crack');
  expect(pilot.findings()).toEqual([]);
});

test('a miss: "the one before" behind anything else takes nothing back', async () => {
  const pilot = await glider();
  await pilot.say('elevator has a crack');
  await pilot.say('the one before too');
  expect(pilot.findings()).toHaveLength(1);
});

test.each([
  [
    'we landed hard last weekend',
    ['leg-roots', 'spar-pins'],
    'engineers have checked it and cleared it',
  ],
  ['the engine overheated on the last flight', ['hose-look'], 'the shop has signed it off'],
  [
    'struck by lightning a month ago',
    ['hinge-look'],
    'an inspector looked it over and released it',
  ],
])('what happened is of the aircraft until it is cleared: %s', async (words, checks, cleared) => {
  const pilot = await glider();
  await pilot.say('oil cap secure');
  await pilot.say(words);
  expect(pilot.findings()).toMatchObject([{ check: null, happened: true }]);
  expect(pilot.demanded()).toEqual(expect.arrayContaining(checks));
  await pilot.say(cleared);
  expect(pilot.demanded()).toEqual([]);
  expect(pilot.findings()).toMatchObject([{ cleared }]);
});

test('R4 "a bird hit us" opens the sentence and has its verb: it is told, whatever was named before', async () => {
  const pilot = await glider();
  await pilot.say('left aileron good');
  await pilot.say('a bird hit us on tuesday');
  expect(pilot.findings()).toMatchObject([{ check: null }]);
});

test.each([
  ['we landed hard yesterday', "about to do the spar pins, they're bent", 'spar-pins'],
  ['we landed hard yesterday', "going to check the leg roots, one's cracked", 'leg-roots'],
  ['struck by lightning', "now I'll look at the hinges, one is cracked", 'hinge-look'],
])('R4 %s – "%s" is a finding, never an intention', async (happened, words, check) => {
  const pilot = await glider();
  await pilot.say(happened);
  await pilot.say(words);
  expect(pilot.findings().map((f) => f.check)).toContain(check);
});

test.each([
  ['left tyre is cut', 'sorry, I meant the right one', 'right-tyre'],
  ['left aileron has a dent', 'correction, right aileron', 'right-aileron'],
  ['oil cap is leaking', 'the drain, not the cap', 'coolant-drain'],
  ['oil cap is leaking', "that's the coolant drain, not the oil cap", 'coolant-drain'],
  ['oil cap is leaking', 'I mean the drain, not the cap', 'coolant-drain'],
])('a correction in any order of words: "%s" – "%s"', async (fault, words, check) => {
  const pilot = await glider();
  await pilot.say(fault);
  await pilot.say(words);
  expect(pilot.findings()).toMatchObject([{ check }]);
});

test.each([
  ['oil is two litres', 'make it three', 3, 'L'],
  ['battery is twelve point six volts', 'should have been thirteen', 13, 'V'],
  ['oil is three litres', 'I meant two and a half', 2.5, 'L'],
])('the number is corrected and its unit stays: "%s" – "%s"', async (said, words, low, unit) => {
  const pilot = await glider();
  await pilot.say(said);
  const came = await pilot.say(words);
  expect(came.question).toBeNull();
  expect(came.statements).toMatchObject([{ values: [{ low, unit, supplied: true }] }]);
});

test('which of several is put right: "it\'s actually three"', async () => {
  const pilot = await glider();
  await pilot.say('blade two has a nick');
  await pilot.say("it's actually three");
  expect(pilot.findings()).toMatchObject([{ check: 'blades', instances: ['3'] }]);
});

test.each([
  ['vent clear, landing light not required', 'canopy good', 'elevator not required'],
  ['a denial behind a name', 'left aileron has a dent', 'left airbrake is not'],
])('R4 no correction: %s', async (_, said, words) => {
  const pilot = await glider();
  await pilot.say(said);
  const came = await pilot.say(words);
  expect(came.statements.some((s) => s.kind === 'observation' && s.amends !== null)).toBe(false);
});

test.each([
  ['engine mount is cracked', 'the lower left I think', ['lower left']],
  ['engine mount is cracked', 'number four', ['lower right']],
  ['harness is frayed', 'the back one', ['rear']],
  ['harness is frayed', 'second', ['rear']],
])('what was offered is taken: "%s" – "%s"', async (fault, answer, places) => {
  const pilot = await glider();
  expect((await pilot.say(fault)).question).toMatch(/\?$/);
  await pilot.say(answer);
  expect(pilot.findings()).toMatchObject([{ instances: places }]);
});

test.each(['dunno', 'none of those', 'neither of them'])(
  'R5 "%s" picks none, and the finding stands',
  async (answer) => {
    const pilot = await glider();
    const { question } = await pilot.say('engine mount is cracked');
    expect((await pilot.say(answer)).question).toBe(question);
    expect(pilot.findings()).toMatchObject([{ check: 'mounts', instances: [] }]);
  },
);

test.each([
  ['the last one', 'note'],
  ['note it, right brake good', 'note'],
  ['right tyre good, watch it', 'watch'],
])('how bad, alone or with something else: %s', async (answer, severity) => {
  const pilot = await glider();
  expect((await pilot.say('left brake has corrosion')).question).toMatch(/ground it, defer it/);
  await pilot.say(answer);
  expect(pilot.findings()).toMatchObject([{ check: 'left-brake', severity }]);
});

test('what counts off is no answer: "One, …"', async () => {
  const pilot = await glider();
  await pilot.say('left brake has corrosion');
  const came = await pilot.say('One, tight. Two, tight.');
  expect(came.statements.filter((s) => s.kind === 'rating')).toEqual([]);
  expect(pilot.findings()).toMatchObject([{ check: 'left-brake', severity: null }]);
});

test('a fault that is told more of, or at which place, is still to be rated', async () => {
  const pilot = await glider();
  await pilot.say('left brake has corrosion');
  expect((await pilot.say('inner side, one inch')).question).toMatch(/ground it, defer it/);
  await pilot.say('watch it');
  expect(pilot.findings()).toMatchObject([
    { severity: 'watch', conditions: [{ size: 'one inch' }] },
  ]);
  await pilot.say('harness is cut');
  expect((await pilot.say('front')).question).toMatch(/cut: ground it, defer it/);
});

test('a fault that is said to be of another thing is rated there, and not asked about where it was', async () => {
  const pilot = await glider();
  await pilot.say('left brake has corrosion');
  expect((await pilot.say('not the left brake, the left tyre')).question).toMatch(
    /^Left tyre, corrosion: ground it/,
  );
  expect((await pilot.say('note it')).question).toBeNull();
  expect(pilot.findings()).toMatchObject([{ check: 'left-tyre', severity: 'note' }]);
});

test('a fault that is unsure and that nothing rates is asked about once: good, or how bad', async () => {
  const pilot = await glider();
  const came = await pilot.say('the elevator, hmm, not sure I like that');
  expect(came.question).toBe('Elevator: good, ground it, defer it, watch it or note it?');
  expect((await pilot.say('the third')).question).toBeNull();
  expect(pilot.findings()).toMatchObject([{ check: 'elevator', severity: 'defer' }]);
});

test('R8 the only unit that a measure can have is supplied: "battery is twenty four" is out of limits', async () => {
  const pilot = await glider();
  const came = await pilot.say('battery is twenty four');
  expect(came.question).toBeNull();
  expect(pilot.findings()).toMatchObject([{ check: 'battery' }]);
});

test.each([
  ['canopy good, tail bumper not fitted', 'canopy', 'stinger'],
  ['set the tail bumper aside, elevator good', null, 'stinger'],
  ['canopy good, elevator not fitted, tail wheel good', 'canopy', 'elevator'],
])(
  'what is set aside is what its own part of the sentence names: %s',
  async (words, good, aside) => {
    const pilot = await glider();
    const came = await pilot.say(words);
    expect(came.statements.flatMap((s) => (s.kind === 'set-aside' ? [s.check] : []))).toEqual([
      aside,
    ]);
    if (good !== null)
      expect(came.statements[0]).toMatchObject({ about: { check: good }, verdict: { good: true } });
  },
);

test('what is set aside on a starter: "cyclic good, skid shoes not fitted"', async () => {
  const pilot = await pilotOn();
  const came = await pilot.say('cyclic good, skid shoes not fitted');
  expect(came.statements).toMatchObject([
    { about: { check: 'cyclic' }, verdict: { good: true } },
    { kind: 'set-aside', check: 'skid-shoes' },
  ]);
});

test.each([
  ['motor-glider', 'left gear', 'left-gear'],
  ['motor-glider', 'right gear', 'right-gear'],
  ['training-aeroplane', 'left gear', 'left-gear'],
])('a station is reached by the words of its name: %s, "%s"', async (catalogue, words, station) => {
  const pilot = catalogue === 'motor-glider' ? await glider() : await pilotOn(catalogue);
  const came = await pilot.say(words);
  expect(came.statements).toMatchObject([{ kind: 'arrival', station }]);
});

test('R4 a fault of a thing that is on no check is kept without a place, and not at what is on that side', async () => {
  const pilot = await pilotOn();
  await pilot.say('left main tyre has a cut');
  expect(pilot.findings()).toMatchObject([{ check: null, part: 'left main tyre' }]);
});
