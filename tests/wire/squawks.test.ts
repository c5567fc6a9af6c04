import { expect, test } from 'vitest';
import { squawksOf } from '#reconcile';
import type { Services } from '#screens';
import { houseFor, testWorld } from './house.ts';

const AIRCRAFT = 'Rowan 2';
const settle = () => new Promise((resolve) => setTimeout(resolve, 20));

/** The house, with helpers that walk, talk and look at the squawks. */
async function ramp() {
  const world = testWorld('2026-03-01T08:00:00Z');
  const { house, store, spoken } = await houseFor(world);
  const said = async (words: string) => {
    world.pass(5);
    const outcome = await house.say(words);
    await settle();
    expect(outcome).toMatchObject({ ok: true });
  };
  const ask = () => house.walk.get()?.question?.text ?? null;
  return {
    house,
    world,
    store,
    spoken,
    said,
    ask,
    async begin(hours: number | null = 100) {
      const begun = await house.begin({
        aircraft: AIRCRAFT,
        catalogue: 'training-helicopter',
        circumstances: [],
        pilot: 'A',
        instructor: null,
        hours,
        ear: 'typed',
      });
      expect(begun.ok).toBe(true);
      await settle();
    },
    async squawks() {
      return squawksOf(await store.squawkEvents());
    },
    steps: async () =>
      squawksOf(await store.squawkEvents()).map((s) => s.history.map((h) => h.step.step)),
  };
}

async function filed(house: Services, words: string, aircraft = AIRCRAFT) {
  const outcome = await house.fileSquawk(aircraft, words, 'training-helicopter');
  if (!outcome.ok) throw new Error(outcome.error);
  if (outcome.value.asks !== undefined) throw new Error('it asks which catalogue');
  return outcome.value;
}

const CRACK = 'squawk, left skid tube is cracked, ground it';

test.each([
  ['still there', 'open', ['opened', 'rechecked', 'amended']],
  ["it's still there", 'open', ['opened', 'rechecked', 'amended']],
  ['same as before', 'open', ['opened', 'rechecked', 'amended']],
  ["it's grown", 'open', ['opened', 'rechecked', 'amended']],
  ['worse', 'open', ['opened', 'rechecked', 'amended']],
  ['gone', 'rechecked', ['opened', 'rechecked']],
  ['it is gone', 'rechecked', ['opened', 'rechecked']],
])(
  'a carried squawk is asked about at its station; "%s" answers it: %s',
  async (words, state, steps) => {
    const { house, begin, said, ask, spoken, squawks } = await ramp();
    await filed(house, CRACK);
    await begin();
    expect(spoken.join(' ')).toContain('1 open: Left skid tubes: crack');
    await said('at the skids');
    expect(ask()).toBe('Open squawk: Left skid tubes: crack. Still there, worse, or gone?');
    await said(words);
    const [squawk] = await squawks();
    expect(squawk?.state).toBe(state);
    expect(squawk?.history.map((h) => h.step.step)).toEqual(steps);
    expect(ask() ?? '').not.toContain('Open squawk');
  },
);

test.each(['not gone', "it isn't gone", 'no', 'what did you say', 'is it gone', 'yes'])(
  'R5: "%s" answers no squawk; the question stays',
  async (words) => {
    const { house, begin, said, squawks, ask } = await ramp();
    await filed(house, CRACK);
    await begin();
    await said('at the skids');
    await said(words);
    expect((await squawks()).map((s) => s.state)).toEqual(['open']);
    expect(ask()).not.toBeNull();
    expect(house.walk.get()?.coverage.questions.map((q) => q.kind)).toContain('recheck');
  },
);

test('R5: with two squawks at one check, "gone" closes neither; each is asked about by name', async () => {
  const { house, begin, said, ask, squawks } = await ramp();
  await filed(house, CRACK);
  await filed(house, 'squawk, left skid tube has corrosion, watch it');
  await begin();
  await said('left skid tube is fixed');
  expect((await squawks()).map((s) => s.state)).toEqual(['open', 'open']);
  expect(ask()).toContain('crack');
  await said('gone');
  expect((await squawks()).map((s) => s.state)).toEqual(['rechecked', 'open']);
  expect(ask()).toContain('corrosion');
  await said('still there');
  expect((await squawks()).map((s) => s.state)).toEqual(['rechecked', 'open']);
});

test('"right tube, fixed" says nothing of a squawk on the left one', async () => {
  const { house, begin, said, squawks, ask } = await ramp();
  await filed(house, CRACK);
  await begin();
  await said('right skid tube is fixed');
  expect((await squawks()).map((s) => s.state)).toEqual(['open']);
  expect(ask()).toContain('Left skid tubes: crack');
});

test('bad input: a squawk of one word is filed as said', async () => {
  const { house, squawks } = await ramp();
  const one = await filed(house, 'wobbly');
  expect(one.readBack).toContain('Filed as you said it: wobbly');
  expect((await squawks()).map((s) => s.fault.words)).toEqual(['wobbly']);
});

test('bad input: nothing said is one sentence and no squawk', async () => {
  const { house, squawks } = await ramp();
  expect(await house.fileSquawk(AIRCRAFT, ' ')).toEqual({
    ok: false,
    error: 'Say or type what is wrong, and where.',
  });
  expect(await squawks()).toEqual([]);
});

test('an aircraft that is new asks which catalogue it has, once, and nothing is filed before', async () => {
  const { house, squawks } = await ramp();
  expect(await house.fileSquawk('D-1', 'left brake is soft')).toMatchObject({
    ok: true,
    value: { asks: 'catalogue', aircraft: 'D-1' },
  });
  expect(await squawks()).toEqual([]);
  await house.fileSquawk('D-1', 'left brake is soft', 'training-helicopter');
  const second = await house.fileSquawk('d1', 'right skid tube is cracked');
  expect(second).toMatchObject({ ok: true, value: { title: 'Right skid tubes: crack' } });
});

test('R5: no squawk is read with the catalogue of another kind', async () => {
  const { house, squawks } = await ramp();
  const none = await house.fileSquawk('D-2', 'left brake’s a bit soft', null);
  expect(none).toMatchObject({ ok: true, value: { title: 'Left brake: slight soft' } });
  const [squawk] = await squawks();
  expect(squawk?.fault).toMatchObject({ check: null, part: 'brake', side: 'left' });
  // Asked once: "none of these" was the answer.
  expect(await house.fileSquawk('D-2', 'canopy latch is loose')).toMatchObject({
    ok: true,
    value: { title: 'Canopy latch: loose' },
  });
});

test('registrations are compared without case and hyphen, and shown as they were written', async () => {
  const { house, squawks } = await ramp();
  await house.fileSquawk('D-ABCD', 'left skid tube is cracked', 'training-helicopter');
  await house.fileSquawk('dabcd', 'right skid tube is cracked');
  expect((await squawks()).map((s) => s.aircraft)).toEqual(['D-ABCD', 'dabcd']);
  const book = await house.squawkBook('d-abcd');
  expect(book.ok && book.value.squawks.map((s) => s.title)).toEqual([
    'Right skid tubes: crack',
    'Left skid tubes: crack',
  ]);
  await expect.poll(() => house.choices.get().aircraft.map((a) => a.aircraft)).toEqual(['D-ABCD']);
});

test('reporter and hours of the walk go with what was found on it', async () => {
  const { begin, said, squawks, house } = await ramp();
  house.change({ pilot: 'Somebody Else' });
  await begin(1234.5);
  await said('squawk, left skid tube is cracked, ground it');
  expect(await squawks()).toMatchObject([{ reporter: 'A', hours: 1234.5 }]);
});

test('corrected, added to and withdrawn: each is an event, and the first telling stays in its history', async () => {
  const { house, squawks } = await ramp();
  const { squawk } = await filed(house, 'left skid tube is cracked, ground it');
  await house.correctSquawk(squawk, 'right skid tube is dented', 'B', 'wrong side');
  await house.squawkStep(squawk, { step: 'noted', by: 'B', note: 'photo with the mechanic' });
  expect(await squawks()).toMatchObject([
    {
      state: 'open',
      irregular: [],
      fault: { check: 'skid-tubes', side: 'right', severity: 'ground', severityBy: 'said' },
      history: [{ step: { fault: { side: 'left' } } }, {}, { step: { step: 'noted' } }],
    },
  ]);
  await house.squawkStep(squawk, { step: 'withdrawn', by: 'B', reason: 'it was dirt' });
  const [withdrawn] = await squawks();
  expect(withdrawn).toMatchObject({ state: 'withdrawn', irregular: [] });
  const next = await house.begin({
    aircraft: AIRCRAFT,
    catalogue: 'training-helicopter',
    circumstances: [],
    pilot: 'A',
    instructor: null,
    hours: null,
    ear: 'typed',
  });
  expect(next.ok).toBe(true);
  expect(house.walk.get()?.squawks).toEqual([]);
});

test('R4: a fault that is seen again opens a withdrawn squawk', async () => {
  const { house, squawks } = await ramp();
  const { squawk } = await filed(house, CRACK);
  await house.squawkStep(squawk, { step: 'withdrawn', by: 'B', reason: 'it was dirt' });
  await house.squawkStep(squawk, {
    step: 'rechecked',
    by: 'B',
    statement: null,
    outcome: 'still-there',
  });
  expect((await squawks()).map((s) => s.state)).toEqual(['open']);
});

test('an aircraft with squawks and no walk is among the choices, of no type until it is walked', async () => {
  const { house, begin } = await ramp();
  await filed(house, CRACK);
  await expect
    .poll(() => house.choices.get().aircraft)
    .toMatchObject([{ aircraft: AIRCRAFT, catalogue: null, openSquawks: [expect.any(String)] }]);
  await begin();
  expect(house.choices.get().aircraft).toMatchObject([
    { aircraft: AIRCRAFT, catalogue: 'training-helicopter' },
  ]);
});

test('where no catalogue is the aircraft’s own, its squawks say so as booked and as printed', async () => {
  const { house, begin } = await ramp();
  await house.fileSquawk(AIRCRAFT, CRACK, null);
  const sentence = /Rowan 2 has no catalogue on this device/;
  const booked = async () => {
    const book = await house.squawkBook(AIRCRAFT);
    return book.ok ? book.value.guessed : book.error;
  };
  const printed = async () => {
    const paper = await house.squawkPaper(AIRCRAFT, 'json');
    return paper.ok ? paper.value.blob.text() : paper.error;
  };
  expect(await booked()).toMatch(sentence);
  expect(await printed()).toMatch(sentence);
  await begin();
  expect(await booked()).toBeNull();
  expect(await printed()).not.toMatch(sentence);
});

test('the first walk of an aircraft carries its squawks in the words of the catalogue that was picked', async () => {
  const { house, begin, ask, said } = await ramp();
  await filed(house, CRACK);
  await begin();
  expect(house.walk.get()?.squawks).toMatchObject([
    { check: 'skid-tubes', text: 'Left skid tubes: crack' },
  ]);
  await said('skid shoes are good');
  expect(ask()).toContain('Left skid tubes: crack');
});

const SPELLED = 'squawk on november one two three alpha bravo, left skid tube is cracked';

test('a registration in the spelling alphabet is matched with the aircraft on the list, whichever was picked', async () => {
  const { house, squawks } = await ramp();
  await filed(house, CRACK, 'N-123AB');
  const told = await filed(house, SPELLED);
  expect(told).toMatchObject({ aircraft: 'N-123AB' });
  expect(told.readBack).toContain('Filed against N-123AB.');
  expect((await squawks()).map((s) => [s.aircraft, s.fault.check, s.fault.side])).toEqual([
    ['N-123AB', 'skid-tubes', 'left'],
    ['N-123AB', 'skid-tubes', 'left'],
  ]);
});

test('bad input: a wrong registration in the spelling alphabet is said, and the squawk is filed with its words', async () => {
  const { house, squawks } = await ramp();
  await filed(house, CRACK, 'N123AC');
  const told = await filed(house, SPELLED);
  expect(told.readBack).toContain(
    'No aircraft N123AB is known on this device: if that is not what you meant by “november one two three alpha bravo”, file it again under the right name.',
  );
  expect((await squawks()).at(-1)).toMatchObject({
    aircraft: 'N123AB',
    fault: { check: 'skid-tubes', words: SPELLED },
  });
});

test('bad input: half a registration is never taken for one', async () => {
  const { house, squawks } = await ramp();
  await filed(house, CRACK, 'N12');
  const words = 'squawk on november one two banana bravo, left skid tube is cracked';
  const told = await filed(house, words);
  expect(told.readBack).toContain('No registration could be made out of');
  expect((await squawks()).map((s) => s.aircraft)).toEqual(['N12', AIRCRAFT]);
});

test('bad input: an aircraft alone is no squawk', async () => {
  const { house, squawks } = await ramp();
  expect(await house.fileSquawk(AIRCRAFT, 'squawk on november one two three')).toMatchObject({
    ok: false,
  });
  expect(await squawks()).toEqual([]);
});
