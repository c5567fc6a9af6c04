import { beforeAll, describe, expect, test } from 'vitest';
import type { Outcome, Workshop } from '#screens';
import { bent } from '../catalogue/small.ts';
import { houseFor, testWorld } from './house.ts';

/* Issue 18: bad input gets one sentence with its line, and nothing of it is lost. */

function got<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.error);
  return outcome.value;
}
let shop: Workshop;
beforeAll(async () => {
  const { house } = await houseFor(testWorld('2026-03-01T08:00:00Z'));
  if (house.workshop === undefined) throw new Error('There is no workshop.');
  shop = house.workshop;
});

const LOOP = bent(
  'name: Tail rotor\n',
  'name: Tail rotor\n        signs:\n          - { id: s, name: Slack, followUps: [tail-rotor] }\n',
);

describe('a file is a draft as it is, and is not given out', () => {
  test.each([
    ['two checks of one name', bent('name: Oil', 'name: Drive belts'), /^Line 33: .*apart by ear/],
    [
      'a limit without a unit',
      bent('            unit: "[qt_us]"\n', ''),
      /^Line \d+: .*neither a unit nor a gauge/,
    ],
    [
      'a circle of follow-ups',
      LOOP,
      /^Line \d+: .*go round in a circle: tail-rotor → tail-rotor\./,
    ],
    [
      'a newer format',
      bent('v: 1', 'v: 2'),
      /^Line 1: This catalogue has format 2; .*Update Talkround/,
    ],
    [
      'a file cut off',
      bent('aspects: [condition, slack]', 'aspects: [condition, sla'),
      /^Line \d+: /,
    ],
  ])('%s', async (_what, text, sentence) => {
    const draft = got(await shop.begin({ from: 'text', text }));
    // Nothing is lost: the author's file, byte for byte.
    expect(got(await shop.draft(draft))).toBe(text);
    const [heed] = await shop.hearing.heed(text);
    expect(heed).toMatchObject({ sort: 'error' });
    expect(heed?.line).toBeGreaterThan(0);
    for (const outcome of [
      await shop.review(draft),
      await shop.publish(draft, 'K. Rowan', 'First'),
    ])
      expect(outcome).toMatchObject({ ok: false, error: expect.stringMatching(sentence) });
    expect(shop.drafts.get().map((d) => d.id)).toContain(draft);
  });
});

describe('a text is no draft, and the field keeps it', () => {
  test.each([
    [
      '5 MB',
      'OIL ..... CHECK\n'.repeat(330_000),
      /^The text has 5280000 characters; .*still here\.$/,
    ],
    ['nothing', '  \n', /^There is no text yet/],
    [
      'no checklist',
      'lorem ipsum dolor',
      /^No line of this text reads as a check\..*still here\.$/,
    ],
  ])('%s', async (_what, text, sentence) => {
    const before = shop.drafts.get();
    expect(await shop.begin({ from: 'text', text })).toMatchObject({
      ok: false,
      error: expect.stringMatching(sentence),
    });
    expect(shop.drafts.get()).toEqual(before);
  });
});

test('a page of a PDF in three languages with broken lines: every line is in the draft’s file', async () => {
  const text = [
    'CABIN',
    'Doors - locked',
    'Türen - verriegelt prüfen',
    'Portes - à vérifier',
    'Seat belts - condi-',
    'tion and security',
    'Page 3 of 12',
  ].join('\n');
  const file = got(await shop.draft(got(await shop.begin({ from: 'text', text }))));
  const told = file.split('\n').filter((l) => l.trim().startsWith('#'));
  for (const line of [2, 3, 4, 5, 6, 7])
    expect(
      told.some((l) => new RegExp(`lines? [\\d, ]*\\b${line}\\b`).test(l)),
      `line ${line}`,
    ).toBe(true);
});
