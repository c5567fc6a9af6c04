import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Learned, Means } from '#shared/phrasebook';
import { believed, phrasebookOf } from '#shared/phrasebook';
import { PEOPLE } from '../../src/school/migrations-people.ts';
import { offeredPhrases } from '../../src/wire/offered.ts';
import { phrasebookDesk } from '../../src/wire/phrasebook.ts';
import { AIRCRAFT, schoolStage, STARTING, type Device, type Stage } from './stage.ts';
import { sql } from 'kysely';

let stage: Stage;
let chief: Device & { readonly person: string | null };
beforeAll(async () => {
  stage = await schoolStage();
  chief = await stage.joined('A. Chief', ['chief']);
}, STARTING);
afterAll(() => stage.close());

let n = 0;
function telling(speaker: string | null, phrase: string, means: Means): Learned {
  n += 1;
  return { id: `learned-${n}`, phrase, means, speaker, from: `s${n}`, told: `${phrase}, told` };
}

const good: Means = { is: 'good', check: 'drive-belts' };
const check: Means = { is: 'check', check: 'drive-belts' };
const bad: Means = { is: 'bad' };

/** A device with everything that it does with phrases: as `src/wire` puts it together. */
function withPhrases<T extends Device>(device: T) {
  const { store, world } = device;
  const phrases = phrasebookDesk({ store, world, catalogues: () => [], inWalk: () => null });
  const offers = offeredPhrases({ store, phrases, now: () => world.now() });
  return {
    device,
    phrases,
    offers,
    learn: (learned: Learned, aircraft = AIRCRAFT) =>
      device.write({ kind: 'learned', learned }, { aircraft }),
    /** A round with the school. @returns what was told of it */
    async round(): Promise<readonly string[]> {
      await device.sync();
      return offers.ask(device.in(), (await device.in().hello([])).phrases);
    },
    async offered(aircraft = AIRCRAFT) {
      const own = (await offers.offers()).find((o) => o.aircraft === aircraft);
      return own?.lines.map((l) => l.phrase) ?? [];
    },
    async counts(speaker: string | null, aircraft = AIRCRAFT) {
      const events = believed(await store.learnedEvents(), store.device);
      return phrasebookOf(events, aircraft, speaker).map((l) => l.phrase);
    },
  };
}

const pilot = async (name: string) => withPhrases(await stage.joined(name, ['pilot']));

/** A second phone of the same person. */
async function second(person: string | null, name: string) {
  const device = await stage.device(name);
  await device.join(await stage.code(person));
  return withPhrases(device);
}

async function terms(phrases: 'none' | 'own' | 'aircraft') {
  await chief.in().setTerms({ sound: true, days: 365, hear: ['instructor'], phrases });
}

test('19: what somebody taught is offered on their own other device, and counts there only with a yes', async () => {
  const one = await pilot('B. Birch');
  const two = await second(one.device.person, 'B. second');
  const other = await pilot('C. Cedar');
  const shared = await second(null, 'Shared phone');
  await one.learn(telling('B. Birch', 'the rubber bits', check));
  await one.learn(telling('B. Birch', 'happy', good));
  await one.learn(telling('B. Birch', 'wonky', bad));
  for (const each of [one, two, other, shared]) await each.round();
  expect(await two.offered()).toEqual(['the rubber bits', 'wonky', 'happy']);
  // Not in silence: not even what makes words a fault.
  expect(await two.counts('B. Birch')).toEqual([]);
  expect(await one.offered()).toEqual([]);
  expect(await other.offered()).toEqual([]);
  expect(await shared.offered()).toEqual([]);
  const taken = await two.offers.take(AIRCRAFT);
  expect(taken).toMatchObject({ ok: true });
  expect(await two.counts('B. Birch')).toEqual(['the rubber bits', 'happy', 'wonky']);
  expect(await two.offered()).toEqual([]);
  // What was taken goes up again as that device's own word, and is one telling still.
  await two.round();
  await one.round();
  expect(await one.offered()).toEqual([]);
  const rows = await stage.database.sql.selectFrom('phrase').selectAll().execute();
  expect(rows.filter((r) => r.speaker === 'B. Birch')).toHaveLength(3);
});

test('19: with the chief’s terms it goes to all who walk the aircraft, and to nobody else; then to nobody', async () => {
  const teacher = await pilot('D. Dogwood');
  const walker = await pilot('E. Elm');
  const mechanic = withPhrases(await stage.joined('F. Fir', ['maintenance']));
  await teacher.learn(telling('D. Dogwood', 'the long strap', check), 'Alder 1');
  await teacher.round();
  await terms('aircraft');
  await walker.round();
  await mechanic.round();
  expect(await walker.offered('Alder 1')).toEqual(['the long strap']);
  expect(await mechanic.offered('Alder 1')).toEqual([]);
  await terms('none');
  await walker.round();
  expect(await walker.offered('Alder 1')).toEqual([]);
  await terms('own');
  await walker.round();
  expect(await walker.offered('Alder 1')).toEqual([]);
});

test('19: what no name stands at belongs to the aircraft: all who walk have it offered', async () => {
  const shared = await second(null, 'Shared of the hangar');
  const walker = await pilot('G. Gorse');
  await shared.learn(telling(null, 'the mystery flap', check), 'Beech 1');
  await shared.round();
  await walker.round();
  expect(await walker.offered('Beech 1')).toEqual(['the mystery flap']);
});

test('19: a no stays a no, and what comes later is offered again', async () => {
  const one = await pilot('H. Hazel');
  const two = await second(one.device.person, 'H. second');
  await one.learn(telling('H. Hazel', 'first words', check), 'Cherry 1');
  await one.round();
  await two.round();
  await two.offers.leave('Cherry 1');
  expect(await two.offered('Cherry 1')).toEqual([]);
  await one.learn(telling('H. Hazel', 'second words', check), 'Cherry 1');
  await one.round();
  await two.round();
  expect(await two.offered('Cherry 1')).toEqual(['second words']);
});

test('19: forgotten where it was taught, it is offered to be forgotten where it was taken; others’ forgetting is their own', async () => {
  const one = await pilot('I. Ivy');
  const two = await second(one.device.person, 'I. second');
  await terms('aircraft');
  const stranger = await pilot('J. Juniper');
  const learned = telling('I. Ivy', 'the old way', check);
  await one.learn(learned, 'Damson 1');
  for (const each of [one, two, stranger]) await each.round();
  await two.offers.take('Damson 1');
  await stranger.offers.take('Damson 1');
  // A stranger forgets it for themselves: nobody else is asked to.
  await stranger.device.write({ kind: 'unlearned', learned: learned.id }, { aircraft: 'Damson 1' });
  await stranger.round();
  await two.round();
  expect((await two.offers.offers()).filter((o) => o.aircraft === 'Damson 1')).toEqual([]);
  await one.device.write({ kind: 'unlearned', learned: learned.id }, { aircraft: 'Damson 1' });
  await one.round();
  await two.round();
  const [offer] = (await two.offers.offers()).filter((o) => o.aircraft === 'Damson 1');
  expect(offer?.forgets.map((l) => l.phrase)).toEqual(['the old way']);
  expect(await two.counts('I. Ivy', 'Damson 1')).toEqual(['the old way']);
  await two.offers.take('Damson 1');
  expect(await two.counts('I. Ivy', 'Damson 1')).toEqual([]);
  await terms('own');
});

test('19: erased with the person: gone from the school, forgotten on every device with a sentence; what makes a fault stays (R4)', async () => {
  await terms('aircraft');
  const one = await pilot('K. Kapok');
  const taker = await pilot('L. Larch');
  const later = await pilot('M. Maple');
  await one.learn(telling('K. Kapok', 'nice and tight', good), 'Elder 1');
  await one.learn(telling('K. Kapok', 'manky', bad), 'Elder 1');
  await one.round();
  await taker.round();
  await later.round();
  await taker.offers.take('Elder 1');
  // Nobody has somebody else's erased but the chief.
  await expect(taker.device.in().erasePhrasesOf(one.device.person ?? '')).rejects.toThrow(
    'Only the person',
  );
  expect(await one.device.in().erasePhrasesOf(one.device.person ?? '')).toEqual({ phrases: 2 });
  expect(await chief.in().erasePhrasesOf(one.device.person ?? '')).toEqual({ phrases: 0 });
  const told = await taker.round();
  expect(told).toEqual([
    'Elder 1: the school has erased 2 phrases of somebody; 1 of them count here no more, and 1 that make words a fault stay until they are forgotten here.',
  ]);
  expect(await taker.counts('K. Kapok', 'Elder 1')).toEqual(['manky']);
  await later.round();
  expect(await later.offered('Elder 1')).toEqual([]);
  // It does not come back with the next device that has it.
  await taker.device.sync();
  await (await pilot('N. Nutmeg')).round();
  const rows = await stage.database.sql
    .selectFrom('phrase')
    .where('aircraft', '=', 'Elder 1')
    .selectAll()
    .execute();
  expect(rows.map((r) => [r.text, r.speaker, r.person])).toEqual([
    [null, null, null],
    [null, null, null],
  ]);
  await terms('own');
});

test('19: who has left takes with them what they taught', async () => {
  await terms('aircraft');
  const one = await pilot('O. Oak');
  const walker = await pilot('P. Pine');
  await one.learn(telling('O. Oak', 'the bendy thing', check), 'Fig 1');
  await one.round();
  await walker.round();
  expect(await walker.offered('Fig 1')).toEqual(['the bendy thing']);
  await chief.in().changePerson(one.device.person ?? '', { gone: true });
  await walker.round();
  expect(await walker.offered('Fig 1')).toEqual([]);
  await terms('own');
});

test('19: what a school invents is an offer and no more: nothing of it counts before a yes', async () => {
  const one = await pilot('Q. Quince');
  const honest = one.device.in();
  const invented = {
    ...honest,
    phrases: async () => ({
      phrases: [
        {
          aircraft: AIRCRAFT,
          learned: { ...telling('Q. Quince', 'cracked', good), at: 1 },
          forgotten: null,
        },
      ],
      erased: [],
      anew: true,
      cursor: '0.9',
      more: false,
    }),
  };
  await one.offers.ask(invented, '0.9');
  expect(await one.offered()).toEqual(['cracked']);
  expect(await one.counts('Q. Quince')).toEqual([]);
  expect(await one.device.store.learnedEvents()).toEqual([]);
});

test('19: a log from before the list gives the very same list', async () => {
  const db = stage.database.sql;
  const rows = async () =>
    (await db.selectFrom('phrase').selectAll().orderBy('id').execute()).map(({ text, ...row }) => ({
      ...row,
      text: text === null ? null : (JSON.parse(text) as unknown),
    }));
  const before = (await rows()).filter((r) => r.erased === null);
  expect(before.length).toBeGreaterThan(5);
  await db.deleteFrom('phrase').execute();
  const fill = PEOPLE.filter(
    (s) => s.startsWith('insert into phrase') || s.startsWith('update phrase'),
  );
  expect(fill).toHaveLength(2);
  for (const statement of fill) await sql.raw(statement).execute(db);
  const ids = new Set(before.map((r) => r.id));
  const after = (await rows()).filter((r) => ids.has(r.id));
  // Of who has left the name is told by no list any more.
  const plain = (list: typeof before) =>
    list.map(({ person, ...row }) => ({
      ...row,
      named: person !== null || row.speaker === 'O. Oak',
    }));
  expect(plain(after)).toEqual(plain(before));
});
