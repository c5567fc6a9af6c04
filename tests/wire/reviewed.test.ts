import { beforeAll, describe, expect, test } from 'vitest';
import type { Services, WalkRecord } from '#screens';
import { lengthOf } from '#shared/length';
import { talkOf } from '../../src/screens/debrief/talk.ts';
import { houseFor, testWorld } from './house.ts';

/** A walk of four minutes and four seconds, with a finding and a check that was passed over. */
async function walked() {
  const world = testWorld('2026-03-01T08:00:00Z');
  const { house } = await houseFor(world);
  const begun = await house.begin({
    aircraft: 'Rowan 2',
    catalogue: 'training-helicopter',
    circumstances: [],
    pilot: 'M. Alder',
    instructor: 'J. Reed',
    hours: 1204.5,
    ear: 'typed',
  });
  if (!begun.ok) throw new Error(begun.error);
  for (const words of ['seat belts are good', 'left skid tube is cracked, ground it']) {
    world.pass(122);
    await house.say(words);
  }
  await house.finish();
  await house.decide('ground', 'M. Alder', null, null);
  world.pass(951);
  return { world, house, id: begun.value };
}

async function opened(house: Services, id: string): Promise<WalkRecord> {
  const outcome = await house.open(id);
  if (!outcome.ok) throw new Error(outcome.error);
  return outcome.value;
}

describe('R6: reviewing never changes the walk', () => {
  let before: WalkRecord;
  let after: WalkRecord;
  let house: Services;
  beforeAll(async () => {
    const made = await walked();
    house = made.house;
    before = await opened(house, made.id);
    const finding = before.coverage.findings[0]?.id ?? '';
    await house.reviewReading(made.id, {
      statement: finding,
      instead: { check: 'skid-shoes', instances: ['left'] },
      by: 'J. Reed',
      note: 'it was the shoe',
    });
    made.world.pass(700);
    await house.reviewStanding(made.id, {
      check: 'seat-belts',
      standing: 'unspoken',
      by: 'J. Reed',
      note: 'never looked',
    });
    after = await opened(house, made.id);
  });

  test('nor its times: it ends at its finish', () => {
    const seconds = (r: WalkRecord) => talkOf(r.catalogue, r.events, r.coverage).seconds;
    expect(lengthOf(before.events)).toBe(244);
    expect(lengthOf(after.events)).toBe(244);
    expect([seconds(before), seconds(after)]).toEqual([244, 244]);
    expect(after.coverage.times).toEqual(before.coverage.times);
    expect(after.reviewed.times).toEqual(before.coverage.times);
  });

  test('nor its sheet', () => {
    expect(after.coverage).toEqual(before.coverage);
    expect(after.reviewed.checks.map((c) => c.standing)).toEqual(
      before.coverage.checks.map((c) => c.standing),
    );
  });

  test('name, correction and note stand where the thing stands: on check, finding, squawk and paper', async () => {
    const belts = after.reviewed.checks.find((c) => c.check === 'seat-belts');
    expect(belts?.reviews).toMatchObject([
      { by: 'J. Reed', says: 'unspoken', note: 'never looked' },
    ]);
    const shoe = { by: 'J. Reed', note: 'it was the shoe' };
    expect(after.reviewed.findings[0]?.reviews).toMatchObject([shoe]);
    const book = await house.squawkBook('Rowan 2');
    expect(book.ok && book.value.squawks[0]?.reviews).toMatchObject([shoe]);
    for (const kind of ['sheet-text', 'sheet-html', 'sheet-csv', 'sheet-json'] as const) {
      const paper = await house.paper(after.id, kind);
      const text = paper.ok ? await paper.value.blob.text() : paper.error;
      expect(text).toContain('never looked');
      expect(text).toContain('it was the shoe');
      expect(text).toContain('J. Reed');
    }
    const list = await house.squawkPaper('Rowan 2', 'csv');
    expect(list.ok && (await list.value.blob.text())).toContain('it was the shoe');
  });

  test('the name of a file tells the walks of a day apart: minute and pilot', async () => {
    const paper = await house.paper(after.id, 'sheet-pdf');
    expect(paper.ok && paper.value.name).toBe('Rowan-2-2026-03-01T0800-M-Alder-sheet.pdf');
  });
});
