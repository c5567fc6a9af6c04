import { expect, test } from 'vitest';
import type { Statement } from '#shared/statement';
import { readLast } from '../seeds/play.ts';

/** Sentences of people whom the grammar was not made with, each a hole that was found and mended. */

type Craft = 'training-helicopter' | 'training-aeroplane';

const read = (craft: Craft, ...said: string[]): readonly Statement[] => readLast(craft, ...said);

const results = (statements: readonly Statement[]) =>
  statements.flatMap((s) =>
    s.kind === 'observation' && s.force === 'result' && s.about.kind === 'check'
      ? [{ ...s, check: s.about.check, places: s.about.which }]
      : [],
  );
/** Checks that count as good at once. */
const good = (statements: readonly Statement[]): string[] =>
  results(statements).flatMap((s) =>
    s.verdict?.good === true && !s.verdict.actOnly && s.doubtful === null ? [s.check] : [],
  );
/** Checks with a fault that is present, asked about or not. */
const faults = (statements: readonly Statement[]): string[] =>
  results(statements).flatMap((s) =>
    s.conditions.some((c) => c.present) || s.verdict?.good === false ? [s.check] : [],
  );
const commands = (statements: readonly Statement[]): string[] =>
  statements.flatMap((s) => (s.kind === 'command' ? [s.command] : []));
const ratings = (statements: readonly Statement[]): string[] =>
  statements.flatMap((s) => (s.kind === 'rating' ? [s.severity] : []));

test.each([
  ['Oil is six and three quarter quarts.', 6.75],
  ['oil six, six and a half quarts', 6.5],
  ['oil six and half quarts', 6.5],
  ['oil three and a quarter quarts', 3.25],
])('R8: "%s" is %d', (say, value) => {
  const [said] = results(read('training-aeroplane', say));
  expect(said?.values.map((v) => v.low)).toEqual([value]);
});

test('R2: prose names nothing that a strike demands, by a "from" or a "for the"', () => {
  const said = read(
    'training-helicopter',
    'someone put the wrong fuel in',
    'a very poor substitute for the truth',
    'broken health resulting from it',
  );
  expect(faults(said)).toEqual([]);
});

test('R5: "all right" is well, and no side', () => {
  const tyre = (words: string) =>
    good(read('training-aeroplane', 'now the left gear', words)).filter((c) => /tyre/.test(c));
  expect(tyre("Tyre's all right.")).toEqual(['left-tyre']);
  expect(tyre('tyre all right')).toEqual(['left-tyre']);
  expect(tyre('Tyre all right, far as I can see.')).toEqual(['left-tyre']);
  const said = results(read('training-aeroplane', 'The left tyre is all right.'))[0];
  expect(said?.verdict?.span?.words ?? said?.span.words).toContain('all right');
});

test('R1: "cowling okay" reports on the cowling, where its station is called so too', () => {
  expect(good(read('training-aeroplane', 'Cowling okay.'))).toEqual(['cowling']);
  expect(good(read('training-helicopter', 'Drive belts okay.'))).toEqual(['drive-belts']);
  expect(read('training-aeroplane', 'Okay, cowling.').map((s) => s.kind)).toEqual(['arrival']);
  expect(read('training-aeroplane', 'Left wing okay.').map((s) => s.kind)).toEqual(['arrival']);
});

test('R5: "one of the blades" is not blade one', () => {
  const said = results(
    read('training-helicopter', 'now the tail rotor', 'one of the blades has a nick'),
  );
  expect(said.map((s) => s.check)).toContain('tail-blades');
  expect(said.every((s) => s.places.how !== 'named')).toBe(true);
  const one = results(read('training-helicopter', 'now the tail rotor', 'blade one has a nick'));
  expect(one[0]?.places).toEqual({ how: 'named', instances: ['1'] });
});

test('R1: "hub" at the tail rotor is not the main rotor hub, whose other name it is', () => {
  expect(good(read('training-helicopter', 'tail rotor', "hub's okay"))).not.toContain('main-hub');
  expect(good(read('training-helicopter', 'main rotor', "hub's okay"))).toEqual(['main-hub']);
});

test.each([
  ['Watch.', 'watch'],
  ['ground', 'ground'],
  ['Note.', 'note'],
  ['so defer', 'defer'],
  ["And that's what I'm saying: watch.", 'watch'],
])('R9: "%s" behind a fault rates it', (words, severity) => {
  const said = read('training-helicopter', 'landing gear', 'left skid shoe is worn through', words);
  expect(ratings(said)).toEqual([severity]);
});

test.each(['watch your head', 'we are on the ground', 'note how it hangs'])(
  'R2: "%s" rates nothing',
  (words) => {
    const said = read(
      'training-helicopter',
      'landing gear',
      'left skid shoe is worn through',
      words,
    );
    expect(ratings(said)).toEqual([]);
  },
);

test.each([
  ['Hang on, recorder.', ['hold']],
  ['go on then begin', ['begin']],
  ['Hold on a minute, my phone.', ['hold']],
  ['what have we not done', ['left']],
  ['what have we not got done', []],
  ["Hang on, that's a crack", []],
])('"%s" orders %j', (words, wanted) => {
  expect(commands(read('training-aeroplane', 'now the engine', "cowling's good", words))).toEqual(
    wanted,
  );
});

test('R4: what is seen behind "hang on" is a fault, and nothing is put on hold', () => {
  const said = read(
    'training-aeroplane',
    'now the engine',
    "cowling's good",
    "Hang on, that's a crack",
  );
  expect(faults(said)).toEqual(['cowling']);
});

test.each([
  [
    'training-helicopter',
    'now the tail boom',
    'Drive shaft. Let me see if it turns free.',
    'tail-drive-shaft',
  ],
  [
    'training-helicopter',
    'cabin',
    'The candidate has stated that the collective is free.',
    'collective',
  ],
  ['training-aeroplane', 'now the tail', "Tail's good bar the trim tab.", 'trim-tab'],
] as const)('R2, R7: on the %s, "%s", "%s" does not speak for it', (craft, at, words, check) => {
  const said = read(craft, at, words);
  expect(good(said)).not.toContain(check);
  expect(faults(said)).toEqual([]);
});

test('R5: a fault of one of two that nobody gave a side is asked about, not told of both', () => {
  const said = read('training-aeroplane', 'The disc has a groove you could sow barley in');
  expect(said.map((s) => s.kind)).toEqual(['two-candidates']);
  const here = read('training-aeroplane', 'right gear', 'disc has a groove');
  expect(faults(here)).toEqual(['right-brake-disc']);
});

test.each([
  ['left tyre good, right tyre good', ['left-tyre', 'right-tyre'], []],
  ['left tyre good right tyre has a cut', ['left-tyre'], ['right-tyre']],
] as const)('"%s" tells each', (words, well, ill) => {
  const said = read('training-aeroplane', words);
  expect(good(said)).toEqual(well);
  expect(faults(said)).toEqual(ill);
});

test('each part of a row is read by itself', () => {
  const said = read(
    'training-helicopter',
    'now the drive',
    'Upper bearing okay, lower bearing okay.',
  );
  expect(good(said)).toEqual(['upper-bearing', 'lower-bearing']);
});

test.each([
  ['engine right side', 'Skip the air box.', 'air-box'],
  ['now the drive', 'No rotor brake on this ship.', 'rotor-brake'],
] as const)('R7: at the %s, "%s" sets it aside', (at, words, check) => {
  const said = read('training-helicopter', at, words);
  expect(said.flatMap((s) => (s.kind === 'set-aside' ? [s.check] : []))).toEqual([check]);
  expect(faults(said)).toEqual([]);
});

test('R4: a light that is burning has not burnt', () => {
  expect(faults(read('training-aeroplane', 'cockpit', 'Nav lights on and burning.'))).toEqual([]);
});

test('R4: a fault that is pointed at is asked about, also where nothing was named', () => {
  const said = read('training-aeroplane', "there's a crack here");
  expect(said.some((s) => s.kind !== 'not-understood' || !s.chatter)).toBe(true);
});

test.each(['left gear', 'right gear', 'left wing', 'right wing', 'over at the right wing now'])(
  'R1: "%s" goes there, and reports nothing',
  (words) => {
    const said = read('training-aeroplane', words);
    expect(said.map((s) => s.kind)).toEqual(['arrival']);
  },
);

test.each(["That's never a crack in the hub. Is it?", "The hub is in nice shape. Isn't it?"])(
  'R2: "%s" asks back, and speaks for nothing yet',
  (words) => {
    expect(good(read('training-helicopter', 'main rotor', words))).toEqual([]);
    expect(good(read('training-helicopter', 'main rotor', 'The hub is in nice shape.'))).toEqual([
      'main-hub',
    ]);
  },
);

test('R7: a pressure in bar excepts nothing', () => {
  const said = read('training-aeroplane', 'nose gear', 'two point one bar, nose tyre is good');
  expect(results(said).map((s) => s.check)).toContain('nose-tyre');
});

test.each([
  ['training-helicopter', 'My shoes are worn right through, I must get to town.'],
  ['training-helicopter', 'The boom on my headset is loose again.'],
  ['training-aeroplane', "The right tyre of my neighbour's tractor is worn."],
  ['training-helicopter', 'Better tail shaft than ours, that one over there. Not a mark on it.'],
  ['training-helicopter', "The one next door has a leading edge that's grand, no a gouge on it."],
] as const)('R2: on the %s, "%s" is of something else', (craft, words) => {
  const said = read(craft, words);
  expect(good(said)).toEqual([]);
  expect(faults(said)).toEqual([]);
});

test.each([
  ['training-helicopter', 'The left skid shoe is worn through.', 'skid-shoes'],
  ['training-aeroplane', 'Nose tyre has a dent, that is from the truck.', 'nose-tyre'],
  [
    'training-aeroplane',
    "There's a crack in the exhaust, not like on my last aeroplane.",
    'exhaust',
  ],
] as const)('R4: on the %s, "%s" is a fault of ours', (craft, words, check) => {
  expect(faults(read(craft, words))).toEqual([check]);
});

test('R1, R5: what will be tight is not tight yet, and what is tight is', () => {
  expect(
    good(read('training-helicopter', "Aux cap will be tight by the time I'm done with it.")),
  ).toEqual([]);
  expect(good(read('training-helicopter', 'Aux cap is tight.'))).toEqual(['aux-fuel-cap']);
});

test.each([
  ['Rudder looks a bit off.', 'rudder'],
  ['The spinner looks off to me.', 'spinner'],
  ['Not too happy about the propeller bolts.', 'propeller-bolts'],
  ["Nose strut doesn't sit right.", 'nose-strut'],
] as const)('R1, R4: "%s" is never good, and asked about at least', (words, check) => {
  const said = read('training-aeroplane', words);
  expect(good(said)).toEqual([]);
  expect(faults(said)).toEqual([check]);
});

test('R4: a cover that is off is no fault of what it covered', () => {
  expect(faults(read('training-aeroplane', 'Pitot cover is off.'))).toEqual([]);
});

test.each([
  ['training-aeroplane', 'Left wing all good.', 'left-wing'],
  ['training-aeroplane', 'All good on the left wing.', 'left-wing'],
  ['training-aeroplane', 'Tail all done, all good.', 'tail'],
  ['training-helicopter', 'Main rotor all good.', 'main-rotor'],
] as const)('R7: on the %s, "%s" speaks for the whole station', (craft, words, station) => {
  const told = read(craft, words).flatMap((s) =>
    s.kind === 'observation' && s.about.kind === 'station' && s.verdict?.good === true
      ? [s.about.station]
      : [],
  );
  expect(told).toEqual([station]);
});

test('R5: "all good" on coming to a station is of no check that nobody named', () => {
  expect(good(read('training-aeroplane', 'left wing', 'All good.'))).toEqual([]);
});

test('R5: one cap of three, and one tank of two, that nobody told apart are asked about', () => {
  const cap = read('training-helicopter', "The fuel cap's loose.");
  expect(cap.map((s) => s.kind)).toEqual(['two-candidates']);
  const tank = read('training-aeroplane', 'Tank half full.');
  expect(tank.map((s) => s.kind)).toEqual(['two-candidates']);
  expect(
    results(read('training-aeroplane', 'left wing', 'Tank half full.')).map((s) => s.check),
  ).toEqual(['left-fuel-level']);
});

test('R5, R7: a fault behind "bar" is at the thing of the station that is named', () => {
  const said = read('training-aeroplane', 'Nose gear good bar the tyre which is a bit low.');
  expect(faults(said)).toEqual(['nose-tyre']);
});

test('R4, R6: a light that is out is a fault, whatever works beside it', () => {
  const said = read('training-helicopter', 'Landing light out and nav lights okay.');
  expect(faults(said)).toEqual(['landing-light']);
  expect(good(said)).toEqual([]);
});

test('R3: "nothing loose in the cockpit" is no fault', () => {
  expect(faults(read('training-aeroplane', 'Nothing loose in the cockpit.'))).toEqual([]);
});

test('R5: a static port is not the left one for its name', () => {
  const said = results(read('training-aeroplane', "Static port's taped over."));
  expect(said.map((s) => s.places.how)).toEqual(['one']);
});

test('R1: "never been better" praises, and "everything is fine except" is asked about (R4)', () => {
  const praised = read('training-aeroplane', "Rudder's never been better.");
  expect(faults(praised)).toEqual([]);
  expect(good(praised)).toEqual(['rudder']);
  const left = read('training-aeroplane', "Everything's fine except the right aileron.");
  expect(good(left)).toEqual([]);
  expect(left.some((s) => s.kind !== 'not-understood' || !s.chatter)).toBe(true);
});

test.each([
  "I'm not happy with the exhaust",
  "I don't like the look of the exhaust",
  'mechanic needs to look at the exhaust',
  'get the mechanic to look at the exhaust',
  "we've got a problem with the exhaust",
  'exhaust fails',
])('R4: "%s": something is wrong, and nobody said what', (words) => {
  expect(faults(read('training-aeroplane', words))).toEqual(['exhaust']);
});

test.each([
  "can't fault the exhaust",
  "can't see anything wrong with the exhaust",
  'no complaints about the exhaust',
  "I'm satisfied with the exhaust",
])('"%s" is praise', (words) => {
  expect(good(read('training-aeroplane', words))).toEqual(['exhaust']);
});

test('R4: a complaint that may be of several things is no chatter', () => {
  const [said] = read('training-aeroplane', "I don't like the propeller");
  expect(said?.kind === 'not-understood' && !said.chatter).toBe(true);
});

test.each([
  ['left seat belt good, right', []],
  ['seat belts one, two and three good, four frayed', ['4']],
  ['seat belts one good two good three frayed four good', ['3']],
  ['seat belt one no fraying, two no fraying, three frayed', ['3']],
] as const)('R4, R6: "%s": a fault in a row is where it is said', (words, places) => {
  const said = results(read('training-aeroplane', 'cabin', words)).filter(
    (s) =>
      s.check === 'seat-belts' &&
      (s.conditions.some((c) => c.present) || s.verdict?.good === false),
  );
  expect(said.flatMap((s) => s.places.instances)).toEqual(places);
});

test.each([
  ['one seat belt is frayed', 'one'],
  ['one of the seat belts is frayed', 'one'],
  ['two seat belts are frayed', 'plural'],
  ['seat belt one is frayed', 'named'],
  ['number one seat belt is frayed', 'named'],
] as const)('R5: "%s" is %s', (words, how) => {
  const said = results(read('training-aeroplane', 'cabin', words));
  expect(said.map((s) => s.places.how)).toEqual([how]);
});

test.each([
  ['both tyres good', ['left-tyre', 'right-tyre'], []],
  ['both fuel caps secure', ['left-fuel-cap', 'right-fuel-cap'], []],
  ['both of the wing tips are cracked', [], ['left-tip', 'right-tip']],
  ['left and right tyres good', ['left-tyre', 'right-tyre'], []],
  ['left brake disc good, right too', ['left-brake-disc', 'right-brake-disc'], []],
  ['left tyre good, right one has a cut', ['left-tyre'], ['right-tyre']],
  ['the left tip is fine but the right one is cracked', ['left-tip'], ['right-tip']],
] as const)('"%s" tells of each of the two', (words, well, ill) => {
  const said = read('training-aeroplane', words);
  expect([...good(said)].sort()).toEqual([...well]);
  expect([...faults(said)].sort()).toEqual([...ill]);
});
