import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { differences, editionOf, parseCatalogue, catalogueYaml, edited } from '#catalogue';
import { CATALOGUES } from '#seeds';
import type { Outcome, Services, Workshop } from '#screens';
import { houseFor, testWorld } from './house.ts';

const TEXT = readFileSync('tests/bench/workshop/texts/04-prose.txt', 'utf8');

function got<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.error);
  return outcome.value;
}
function shopOf(house: Services): Workshop {
  if (house.workshop === undefined) throw new Error('There is no workshop.');
  return house.workshop;
}
async function walked(house: Services, catalogue: string, aircraft: string): Promise<string> {
  const id = got(
    await house.begin({
      aircraft,
      catalogue,
      circumstances: [],
      pilot: 'M. Alder',
      instructor: null,
      hours: null,
      ear: 'typed',
    }),
  );
  await house.say('canopy good');
  await house.finish();
  house.close();
  return id;
}

describe('issue 18: from a pasted checklist to two editions, given away', () => {
  let house: Services;
  let shop: Workshop;
  let first = '';
  beforeAll(async () => {
    ({ house } = await houseFor(testWorld('2026-03-01T08:00:00Z')));
    shop = shopOf(house);
    const draft = got(await shop.begin({ from: 'text', text: TEXT }));
    expect(got(await shop.review(draft))).toMatchObject({ version: 1, differences: null });
    got(await shop.publish(draft, 'K. Rowan', 'From the printed list'));
    first = await walked(house, 'swift-glider', 'Swift 3');
  });

  test('the draft is offered on the first screen', () => {
    expect(house.choices.get().catalogues.map((c) => c.id)).toContain('swift-glider');
    expect(shop.drafts.get()).toEqual([]);
  });

  test('a second edition says what is different, counts up, and the old walk keeps the first', async () => {
    const draft = got(await shop.begin({ from: 'catalogue', id: 'swift-glider', as: 'edition' }));
    const text = got(await shop.draft(draft));
    expect(await shop.publish(draft, 'K. Rowan', 'Nothing')).toMatchObject({
      ok: false,
      error: expect.stringContaining('Nothing is changed'),
    });
    const changed = edited(text, [
      { do: 'set', path: ['stations', 0, 'checks', 4, 'measures', 0, 'low'], value: 12.6 },
      {
        do: 'insert',
        list: ['stations', 0, 'checks'],
        at: 0,
        value: { id: 'papers', name: 'Papers' },
      },
    ]);
    if (!changed.ok) throw new Error(changed.error);
    got(await shop.keep(draft, changed.text));
    const review = got(await shop.review(draft));
    expect(review.version).toBe(2);
    expect(review.differences).toEqual([
      '1 check added: Papers (Cockpit).',
      'Battery, voltage: limit changed from at least 12.4 volts to at least 12.6 volts.',
    ]);
    got(await shop.publish(draft, 'K. Rowan', 'Battery limit from the bulletin'));
    const book = shop.books.get().find((b) => b.id === 'swift-glider');
    expect(book?.editions.map((e) => [e.version, e.current, e.walks])).toEqual([
      [1, false, 1],
      [2, true, 0],
    ]);
    expect(book?.editions[1]?.change).toMatchObject({ by: 'K. Rowan', version: 2 });
    expect(got(await house.open(first)).catalogue.version).toBe(1);
  });

  test('never deletes an edition that a walk needs, in one sentence', async () => {
    const [one, two] = shop.books.get().find((b) => b.id === 'swift-glider')?.editions ?? [];
    expect(await shop.remove(one?.edition ?? '')).toMatchObject({
      ok: false,
      error: expect.stringContaining('Withdraw it instead'),
    });
    got(await shop.withdraw(two?.edition ?? '', true));
    const offered = () => house.choices.get().catalogues.find((c) => c.id === 'swift-glider');
    expect(offered()?.edition).toBe(one?.edition);
    got(await shop.withdraw(two?.edition ?? '', false));
    expect(offered()?.edition).toBe(two?.edition);
  });

  test('given as a file with its aircraft: shown with its signature, taken on a yes, walked there', async () => {
    got(await shop.setAircraft('swift-glider', ['Swift 3', 'Swift 7']));
    const { blob, name } = got(await shop.give('swift-glider', 'K. Rowan'));
    expect(name).toBe('swift-glider-v2.talkround.json');
    const there = (await houseFor(testWorld('2026-03-02T08:00:00Z'))).house;
    const other = shopOf(there);
    const brought = got(await there.bringIn(new File([blob], name), null, () => undefined));
    expect(brought.go).toBe('/workshop/offer');
    expect(other.offer.get()).toMatchObject({
      name: 'Swift glider',
      version: 2,
      differences: null,
      aircraft: ['Swift 3', 'Swift 7'],
      moves: [],
      learned: null,
      signed: { by: 'K. Rowan', sameAsBefore: null },
    });
    // Not before the yes.
    expect(there.choices.get().catalogues.map((c) => c.id)).not.toContain('swift-glider');
    got(await other.accept());
    expect(there.choices.get().aircraft.map((a) => [a.aircraft, a.catalogue])).toEqual([
      ['Swift 3', 'swift-glider'],
      ['Swift 7', 'swift-glider'],
    ]);
    // Byte for byte the author's file, comments and all.
    expect(got(await other.source('swift-glider'))).toBe(got(await shop.source('swift-glider')));
  });

  test('a file that was changed on the way, cut off or of a newer version is refused in one sentence', async () => {
    const { blob } = got(await shop.give('swift-glider', 'K. Rowan'));
    const text = await blob.text();
    const tampered = text.replace('12.6', '11.6');
    expect(tampered).not.toBe(text);
    expect(await shop.take(tampered, 'gift.json')).toMatchObject({
      ok: false,
      error: expect.stringContaining('changed after it was signed'),
    });
    expect(await shop.take(text.slice(0, 700), 'gift.json')).toMatchObject({
      ok: false,
      error: expect.stringContaining('cut off'),
    });
    expect(await shop.take(text.replace('"v":1', '"v":3'), 'gift.json')).toMatchObject({
      ok: false,
      error: expect.stringContaining('Update Talkround'),
    });
    expect(shop.offer.get()).toBeNull();
  });

  test('a small one goes through a QR code; a large one says that it does not', async () => {
    const draft = got(await shop.begin({ from: 'nothing', name: 'Tiny', kind: 'glider' }));
    got(await shop.publish(draft, 'K. Rowan', 'First'));
    const { code } = got(await shop.give('tiny', 'K. Rowan'));
    expect(code).toContain('#/workshop/code/');
    got(await shop.takeCode(code?.split('/').at(-1) ?? ''));
    expect(shop.offer.get()?.name).toBe('Tiny');
    shop.decline();
    expect(got(await shop.give('training-helicopter', 'K. Rowan')).code).toBeNull();
    expect(await shop.takeCode('not-a-code')).toMatchObject({ ok: false });
  });

  test('a backup offers catalogues again: the walked and the unwalked, and no edition takes the place of another', async () => {
    const { blob } = got(await house.backUp());
    const world = testWorld('2026-03-03T08:00:00Z');
    const there = (await houseFor({ ...world, id: () => `there-${world.id()}` })).house;
    got(await there.restore(new File([blob], 'b.zip'), () => undefined));
    const ids = there.choices.get().catalogues.map((c) => c.id);
    expect(ids).toEqual(expect.arrayContaining(['swift-glider', 'tiny']));
    const book = shopOf(there)
      .books.get()
      .find((b) => b.id === 'swift-glider');
    expect(book?.editions.map((e) => [e.version, e.current])).toEqual([
      [1, false],
      [2, true],
    ]);
  });

  test('starters can be put away, but not the last catalogue', async () => {
    const there = (await houseFor(testWorld('2026-03-04T08:00:00Z'))).house;
    const other = shopOf(there);
    got(await other.putAway('training-helicopter', true));
    got(await other.putAway('training-aeroplane', true));
    expect(there.choices.get().catalogues.map((c) => c.id)).toEqual(['appendix-d']);
    expect(await other.putAway('appendix-d', true)).toMatchObject({ ok: false });
    got(await other.putAway('training-helicopter', false));
    expect(there.choices.get().catalogues.map((c) => c.id)).toContain('training-helicopter');
  });

  test('a YAML of an id that is here waits for a yes, with the difference', async () => {
    const text = got(await shop.source('swift-glider')).replace('name: Papers', 'name: Logbook');
    const brought = got(await house.bringIn(new File([text], 'swift.yaml'), null, () => undefined));
    expect(brought.go).toBe('/workshop/offer');
    expect(shop.offer.get()).toMatchObject({
      signed: null,
      differences: ['Papers, name: “Papers” is “Logbook” now.'],
    });
    shop.decline();
    expect(got(await shop.source('swift-glider'))).toContain('name: Papers');
  });
});

test.each(CATALOGUES.map((c) => [c.name, c.text]))(
  'the content of %s written as YAML again is the same edition',
  (_name, text) => {
    const parsed = parseCatalogue(text, 'a');
    if (!parsed.ok) throw new Error('unread');
    const again = parseCatalogue(catalogueYaml(parsed.catalogue), 'b');
    if (!again.ok) throw new Error(again.problems[0]?.text);
    expect(differences(parsed.catalogue, again.catalogue)).toEqual([]);
    expect(editionOf(again.catalogue)).toBe(editionOf(parsed.catalogue));
  },
);
