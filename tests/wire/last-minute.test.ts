import { expect, test } from 'vitest';
import { typedEar } from '#capture';
import { countOf, findingCounts } from '#shared/counts';
import { PRACTICE, type Services } from '#screens';
import { exampleAt } from '../../src/screens/walk/example.ts';
import { sentencesDone } from '../../src/screens/walk/First.tsx';
import { houseFor, testWorld } from './house.ts';

/** Issue 17: what the last minute before the flight rests on, through the whole house. */

async function walking(world = testWorld('2026-09-14T06:00:00Z')) {
  const { house, store, spoken } = await houseFor(world);
  const begun = await house.begin({
    aircraft: 'Rowan 2',
    catalogue: 'training-helicopter',
    circumstances: [],
    pilot: 'M. Alder',
    instructor: null,
    hours: null,
    ear: 'typed',
  });
  if (!begun.ok) throw new Error(begun.error);
  const say = async (words: string) => {
    world.pass(5);
    const said = await house.say(words);
    if (!said.ok) throw new Error(said.error);
  };
  const kinds = async () => (await store.walk(begun.value)).map((e) => e.what.kind);
  return { house, store, spoken, walk: begun.value, say, kinds, world };
}

const lineOf = (house: Services, id: string) => house.walks.get().find((w) => w.id === id);

test('a check answered by touch says so and is counted; one that was said does not', async () => {
  const { house, say } = await walking();
  await say('now the engine right side');
  await say('engine oil level is six quarts');
  const [open] = (house.walk.get()?.coverage.checks ?? []).filter(
    (c) => c.station === 'engine-right' && c.standing === 'unspoken',
  );
  expect(open).toBeDefined();
  await house.settle(open?.check ?? '', 'good');
  const coverage = house.walk.get()?.coverage;
  expect(coverage?.checks.find((c) => c.check === open?.check)).toMatchObject({
    standing: 'spoken',
    touched: true,
  });
  expect(countOf(coverage?.checks ?? []).touched).toBe(1);
  expect(coverage?.checks.filter((c) => c.touched === true)).toHaveLength(1);
});

test('R7: "everything" that counts for nothing says so, and is no full dot', async () => {
  const { house, say } = await walking();
  await say('now the main rotor');
  await say('everything on the main rotor is good');
  const last = house.walk.get()?.last;
  const covered = (house.walk.get()?.coverage.checks ?? []).filter((c) => c.standing === 'spoken');
  expect(last?.made.join(' ')).toMatch(
    covered.length === 0 ? /counts for no check/ : /: \d+ checks? spoken for$/,
  );
  expect(last?.checks).toEqual(covered.map((c) => c.check));
  // Said again: whatever it covered stands already, so now it certainly counts for nothing.
  await say('everything on the main rotor is good');
  expect(house.walk.get()?.last?.made.join(' ')).toMatch(
    /counts for no check, name each one|nothing was open there/,
  );
  expect(house.walk.get()?.last?.sort).toBe('nothing');
});

test('by touch: an unfinished walk is discarded with its trace in the log, and is not offered again', async () => {
  const { house, walk, kinds, store } = await walking();
  expect(await house.discard(walk, 'wrong aircraft')).toMatchObject({ ok: true });
  expect(house.walk.get()).toBeNull();
  expect(await kinds()).toContain('discarded');
  await expect.poll(() => lineOf(house, walk)?.state).toBe('discarded');
  expect(house.choices.get().unfinished).toBeNull();
  expect(await house.takeUp(walk)).toMatchObject({ ok: false });
  const opened = await house.open(walk);
  expect(opened.ok && opened.value.coverage.discarded).toEqual({ why: 'wrong aircraft' });
  expect((await store.walk(walk)).some((e) => e.what.kind === 'walk-begun')).toBe(true);
});

test('R4: what was found on a walk that is discarded is a squawk all the same', async () => {
  const { house, walk, say } = await walking();
  await say('oil cooler is leaking, ground it');
  expect(findingCounts(house.walk.get()?.coverage ?? { findings: [] }).findings).toBe(1);
  await house.discard(walk, null);
  const book = await house.squawkBook('Rowan 2');
  expect(book.ok && book.value.squawks).toHaveLength(1);
});

test('by voice: once asks, anything else keeps the walk, twice or a yes discards it', async () => {
  const { say, kinds, spoken } = await walking();
  await say('discard this walk');
  expect(spoken.at(-1)).toContain('say it again');
  expect(await kinds()).not.toContain('discarded');
  await say('oil cooler good');
  await say('discard this walk');
  expect(await kinds()).not.toContain('discarded');
  await say('discard this walk');
  expect(await kinds()).toContain('discarded');
  expect(spoken.at(-1)).toContain('Discarded');

  const other = await walking();
  await other.say('discard the walk');
  await other.say('yes');
  expect(await other.kinds()).toContain('discarded');
});

test('a finished walk is not discarded, and is signed later, taken up with no ear opened', async () => {
  const { house, walk, say, kinds } = await walking();
  await say('finish the walk');
  expect(await house.discard(walk, null)).toMatchObject({ ok: false });
  await say('discard this walk');
  await say('discard this walk');
  expect(await kinds()).not.toContain('discarded');
  house.close();
  expect(await house.takeUp(walk, 'quietly')).toMatchObject({ ok: true });
  expect(house.listening.get().state).toBe('typed');
  expect(await house.decide('fly', 'M. Alder', null, null)).toMatchObject({ ok: true });
  expect(await house.sign('M. Alder', null)).toMatchObject({ ok: true });
  await expect.poll(() => lineOf(house, walk)?.state).toBe('signed');
});

test('finish, list and sheet give the same numbers, from one function', async () => {
  const { house, walk, say } = await walking();
  await say('oil cooler is leaking, ground it');
  await say('take that back');
  await say('oil cooler is leaking, ground it');
  await say('finish the walk');
  const shown = house.walk.get()?.coverage;
  if (shown === undefined) throw new Error('no walk');
  const opened = await house.open(walk);
  if (!opened.ok) throw new Error(opened.error);
  expect(countOf(opened.value.coverage.checks)).toEqual(countOf(shown.checks));
  expect(findingCounts(opened.value.coverage)).toEqual({ findings: 1, takenBack: 1, unsettled: 0 });
  await house.count?.([walk]);
  expect(lineOf(house, walk)).toMatchObject({ open: countOf(shown.checks).open, findings: 1 });
});

test('the walk begins while the ear is still being loaded: words typed meanwhile count', async () => {
  const world = testWorld('2026-09-14T06:00:00Z');
  let ready = (): void => undefined;
  const { house } = await houseFor(world, {
    openEar: (_, needs) =>
      new Promise((open) => {
        ready = () => open(typedEar({ world, seconds: needs.seconds }));
      }),
  });
  const begun = await house.begin({
    aircraft: 'Rowan 2',
    catalogue: 'training-helicopter',
    circumstances: [],
    pilot: null,
    instructor: null,
    hours: null,
    ear: 'embedded',
  });
  expect(begun).toMatchObject({ ok: true });
  expect(house.listening.get().state).toBe('starting');
  await house.say('oil cooler good');
  expect(house.walk.get()?.coverage.checks.some((c) => c.standing !== 'unspoken')).toBe(true);
  ready();
  await expect.poll(() => house.listening.get().state).toBe('typed');
});

test('an ear that fails after the walk began says so, and the walk goes on', async () => {
  const world = testWorld('2026-09-14T06:00:00Z');
  let fail = (): void => undefined;
  const { house } = await houseFor(world, {
    openEar: () =>
      new Promise((_, no) => {
        fail = () => no(new Error('The model is not there. Type, or load it with a network.'));
      }),
  });
  await house.begin({
    aircraft: 'Rowan 2',
    catalogue: 'training-helicopter',
    circumstances: [],
    pilot: null,
    instructor: null,
    hours: null,
    ear: 'embedded',
  });
  fail();
  await expect
    .poll(() => house.listening.get())
    .toMatchObject({ state: 'deaf', why: expect.stringContaining('The model is not there') });
});

test('first use: three sentences are understood one after the other, and leaving it makes no aircraft known', async () => {
  const world = testWorld('2026-09-14T06:00:00Z');
  const { house, store } = await houseFor(world);
  const begun = await house.begin({
    aircraft: PRACTICE,
    catalogue: 'training-helicopter',
    circumstances: [],
    pilot: null,
    instructor: null,
    hours: null,
    ear: 'typed',
  });
  if (!begun.ok) throw new Error(begun.error);
  const done: number[] = [];
  for (;;) {
    const walk = house.walk.get();
    if (walk === null) throw new Error('no walk');
    done.push(sentencesDone(walk));
    const example = exampleAt(walk.catalogue, walk.coverage);
    const next = [`now the ${example?.station}`, `${example?.check} good`, 'hold'][
      done.at(-1) ?? 0
    ];
    if (next === undefined) break;
    world.pass(5);
    expect(await house.say(next)).toMatchObject({ ok: true });
  }
  expect(done).toEqual([0, 1, 2, 3]);
  await house.discard(begun.value, 'first use');
  await expect.poll(() => lineOf(house, begun.value)?.state).toBe('discarded');
  expect(house.choices.get().aircraft).toEqual([]);
  expect((await store.walk(begun.value)).length).toBeGreaterThan(3);
});
