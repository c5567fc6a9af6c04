import { beforeAll, describe, expect, test } from 'vitest';
import { parcelHash } from '#catalogue';
import type { Outcome, Services, Workshop } from '#screens';
import type { Learned } from '#shared/phrasebook';
import type { Store } from '#store';
import { houseFor, testWorld } from './house.ts';

/* Issue 18: a catalogue is given away in one file with its aircraft and what was learned on them. */

function got<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.error);
  return outcome.value;
}
function shopOf(house: Services): Workshop {
  if (house.workshop === undefined) throw new Error('There is no workshop.');
  return house.workshop;
}
async function teach(store: Store, id: string, means: Learned['means']): Promise<void> {
  const learned = { id, phrase: `words ${id}`, means, speaker: 'P. Heron', from: 's' };
  await store.append([
    {
      v: 1,
      id: `e-${id}`,
      walk: null,
      aircraft: 'Swift 3',
      at: 1,
      t: null,
      what: { kind: 'learned', learned },
    },
  ]);
}
/** A device that has walked nothing yet. Its ids are its own. */
async function other(name: string) {
  const world = testWorld('2026-03-02T08:00:00Z');
  const { house, store } = await houseFor({ ...world, id: () => `${name}-${world.id()}` });
  return { house, store, shop: shopOf(house) };
}

let giver: Store;
let shop: Workshop;
/** The file with what was learned, and without it. */
let full = '';
let bare = '';
beforeAll(async () => {
  const made = await houseFor(testWorld('2026-03-01T08:00:00Z'));
  giver = made.store;
  shop = shopOf(made.house);
  const draft = got(await shop.begin({ from: 'nothing', name: 'Swift', kind: 'glider' }));
  got(await shop.publish(draft, 'K. Rowan', 'First'));
  got(await shop.setAircraft('swift', ['Swift 3']));
  await teach(giver, 'fault', { is: 'bad' });
  await teach(giver, 'alias', { is: 'check', check: 'first-check' });
  await teach(giver, 'fine', { is: 'nothing' });
  full = await got(await shop.give('swift', 'K. Rowan', true)).blob.text();
  bare = await got(await shop.give('swift', 'K. Rowan')).blob.text();
});

describe('issue 18: what was learned on its aircraft', () => {
  test('is in the file only where its giver said so, since it names people', async () => {
    expect(full).toContain('P. Heron');
    expect(bare).not.toContain('P. Heron');
    // An older Talkround reads what has nothing new in it.
    expect(JSON.parse(bare)).toMatchObject({ v: 1 });
    await shop.refresh();
    expect(shop.books.get().find((b) => b.id === 'swift')?.learned).toBe(3);
  });

  test('is shown before it is taken; without a yes nothing is good, harmless or milder', async () => {
    const there = await other('a');
    got(await there.shop.take(full, 'swift.json'));
    expect(there.shop.offer.get()).toMatchObject({
      aircraft: ['Swift 3'],
      learned: { phrases: 2, asks: [{ id: 'fine', phrase: 'words fine', speaker: 'P. Heron' }] },
    });
    expect(await there.store.learnedEvents()).toEqual([]);
    got(await there.shop.accept());
    const book = got(await (there.house.learned ?? never()).book('Swift 3'));
    expect(book.lines.map((l) => l.id).sort()).toEqual(['alias', 'fault']);
    // The aircraft is on the first screen.
    expect(there.house.choices.get().aircraft).toMatchObject([
      { aircraft: 'Swift 3', catalogue: 'swift' },
    ]);
  });

  test('with the yes all of it is taken, and a second time nothing is new', async () => {
    const there = await other('b');
    got(await there.shop.take(full, 'swift.json'));
    got(await there.shop.accept(true));
    const book = got(await (there.house.learned ?? never()).book('Swift 3'));
    expect(book.lines.map((l) => l.id).sort()).toEqual(['alias', 'fault', 'fine']);
    got(await there.shop.take(full, 'swift.json'));
    expect(there.shop.offer.get()?.learned).toEqual({ phrases: 0, asks: [] });
  });

  test('a gift makes nothing forgotten: what was told here to be a fault stays one', async () => {
    const there = await other('c');
    got(await there.shop.take(full, 'swift.json'));
    got(await there.shop.accept(true));
    const forgetful = signed({
      ...(JSON.parse(full) as Record<string, unknown>),
      phrasebooks: [
        {
          format: 'talkround-phrasebook',
          v: 1,
          made: 9e12,
          aircraft: 'Swift 3',
          learned: [],
          forgotten: [{ learned: 'fault', at: 9e12 }],
        },
      ],
    });
    got(await there.shop.take(await forgetful, 'swift.json'));
    got(await there.shop.accept(true));
    const book = got(await (there.house.learned ?? never()).book('Swift 3'));
    expect(book.lines.map((l) => l.id)).toContain('fault');
  });
});

test('issue 18: brought in where every file is, it waits for a yes, and is no phrasebook', async () => {
  const there = await other('f');
  const file = new File([full], 'swift.talkround.json');
  const brought = got(await there.house.bringIn(file, null, () => undefined));
  expect(brought.go).toBe('/workshop/offer');
  expect(await there.house.learned?.take(file)).toMatchObject({
    ok: false,
    error: expect.stringContaining('is no phrasebook'),
  });
});

test('issue 18: an aircraft that another catalogue is walked by here is told before it is moved', async () => {
  const there = await other('d');
  got(await there.shop.setAircraft('training-aeroplane', ['Swift 3']));
  got(await there.shop.take(bare, 'swift.json'));
  expect(there.shop.offer.get()?.moves).toEqual([
    { aircraft: 'Swift 3', from: 'Training aeroplane' },
  ]);
  there.shop.decline();
  const still = there.house.choices.get().aircraft.find((a) => a.aircraft === 'Swift 3');
  expect(still?.catalogue).toBe('training-aeroplane');
});

function never(): never {
  throw new Error('Nothing is learned here.');
}

/** The same words, signed by the giver's device again. */
async function signed(parcel: Record<string, unknown>): Promise<string> {
  return JSON.stringify({ ...parcel, signature: await giver.signHash(parcelHash(parcel)) });
}
const changed = (change: Record<string, unknown>) => ({
  ...(JSON.parse(full) as Record<string, unknown>),
  ...change,
});

/* Each file is refused in one sentence, and nothing of it waits for a yes. */
test.each<[string, () => string | Promise<string>, RegExp]>([
  ['cut off on the way', () => full.slice(0, 700), /cut off on the way\. Ask for it again\.$/],
  ['changed on the way', () => full.replace('K. Rowan', 'K. Raven'), /changed after it was signed/],
  [
    'what was learned changed on the way',
    () => full.replace('"is":"bad"', '"is":"nothing"'),
    /changed after it was signed/,
  ],
  [
    'of a newer version',
    () => full.replace('"v":2', '"v":3'),
    /formats up to 2\. Update Talkround/,
  ],
  [
    'another edition than it says',
    () => signed(changed({ edition: '0'.repeat(64) })),
    /another edition than the file says/,
  ],
  [
    'learned on an aircraft that is not in it',
    () => signed(changed({ aircraft: ['Swift 7'] })),
    /learned on Swift 3, and that is none of its aircraft/,
  ],
  ['with a field that nobody knows', () => signed(changed({ extra: 1 })), /not readable at ""/],
  ['a catalogue with a mistake in it', () => signed(changed({ text: 'v: 1\nid: x\n' })), /line 1/i],
  [
    'a catalogue of a newer format',
    () => signed(changed({ text: 'v: 2\n' })),
    /has format 2.*Update/,
  ],
  [
    'larger than any honest one',
    () => `{"format":"talkround-catalogue","v":1,"text":"${'x'.repeat(12_100_000)}"}`,
    /has 121000\d\d characters; a catalogue file has at most 12000000\.$/,
  ],
])('issue 18: a file that is %s', async (_what, file, sentence) => {
  const there = await other('e');
  const outcome = await there.shop.take(await file(), 'gift.json');
  expect(outcome).toMatchObject({ ok: false, error: expect.stringMatching(sentence) });
  expect(there.shop.offer.get()).toBeNull();
});
