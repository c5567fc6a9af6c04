import { readFileSync } from 'node:fs';
import Papa from 'papaparse';
import { describe, expect, test } from 'vitest';
import type { Services, WalkRecord } from '#screens';
import { toldIn, toldSentence } from '#shared/told';
import { houseFor, testWorld } from './house.ts';

const LESSON = 'instructor-teaching.srt';

async function broughtIn(name: string): Promise<{ house: Services; record: WalkRecord }> {
  const { house } = await houseFor(testWorld('2026-03-01T08:00:00Z'));
  const file = new File([readFileSync(`seeds/walks/${name}`)], name);
  const into = { aircraft: 'Rowan 2', catalogue: 'training-helicopter' };
  const brought = await house.bringIn(file, into, () => undefined);
  if (!brought.ok || brought.value.walk === null) throw new Error('not brought in');
  const opened = await house.open(brought.value.walk);
  if (!opened.ok) throw new Error(opened.error);
  return { house, record: opened.value };
}

describe('R2: explained is not checked', async () => {
  const { house, record } = await broughtIn(LESSON);
  const { coverage } = record;
  const explained = coverage.checks.filter((c) => toldIn(c).explained.length > 0);
  const only = explained.filter((c) => toldIn(c).reported.length + toldIn(c).done.length === 0);

  test('a lesson keeps what was explained with each check, in its words', () => {
    expect(explained.length).toBeGreaterThan(2);
    const heard = record.events.flatMap(({ what }) =>
      what.kind === 'heard' ? [what.heard.text.toLowerCase()] : [],
    );
    for (const { words } of explained.flatMap((c) => toldIn(c).explained)) {
      const first = words.toLowerCase().split(' ').slice(0, 3).join(' ');
      expect(heard.some((h) => h.includes(first))).toBe(true);
    }
  });

  test('a check that was only explained is not spoken for, and makes no finding', () => {
    expect(only.length).toBeGreaterThan(0);
    for (const c of only) {
      expect(['spoken', 'part']).not.toContain(c.standing);
      expect(coverage.findings.filter((f) => f.check === c.check)).toEqual([]);
    }
  });

  test('whatever is spoken for was reported or done', () => {
    const spoken = coverage.checks.filter((c) => c.standing === 'spoken');
    expect(spoken.length).toBeGreaterThan(0);
    for (const c of spoken)
      expect(toldIn(c).reported.length + toldIn(c).done.length).toBeGreaterThan(0);
  });

  const paper = async (kind: Parameters<Services['paper']>[1]) => {
    const made = await house.paper(record.id, kind);
    if (!made.ok) throw new Error(made.error);
    return made.value.blob.text();
  };

  test('CSV: each check says in its own row what it was, with its words', async () => {
    const { data } = Papa.parse<Record<string, string>>((await paper('sheet-csv')).slice(1), {
      header: true,
    });
    expect(data).toHaveLength(coverage.checks.length);
    expect(data.filter((r) => r['explained'] === 'yes')).toHaveLength(explained.length);
    for (const row of data) {
      expect(row['explained'] === 'yes').toBe(row['explained_words'] !== '');
      expect(row['reported'] === 'yes').toBe(row['reported_words'] !== '');
    }
  });

  test.each(['sheet-text', 'sheet-html'] as const)('%s says it for every check', async (kind) => {
    const text = await paper(kind);
    expect(text).toContain(toldSentence(coverage) ?? 'no sentence');
    expect(text.match(/explained, not counted: /g)).toHaveLength(explained.length);
  });

  test('JSON has the three classes of every check', async () => {
    const made = JSON.parse(await paper('sheet-json')) as typeof coverage;
    expect(made.checks.map((c) => c.told)).toEqual(coverage.checks.map((c) => c.told));
  });
});

describe('which reader read it is on the record', () => {
  test('version and hash of the scores', async () => {
    const { record } = await broughtIn(LESSON);
    const begun = record.events[0]?.what;
    expect(begun?.kind === 'walk-begun' ? begun.reader : null).toMatchObject({
      version: expect.stringMatching(/./) as string,
      weights: expect.stringMatching(/^[0-9a-f]{64}$/) as string,
    });
  });
});

describe('a second reading is an offer', () => {
  test.each([LESSON, 'three-findings.txt', 'interrupted.txt', 'brisk-owner.vtt'])(
    '%s read again by the same reader reads the same, and the walk is not touched',
    async (name) => {
      const { house, record } = await broughtIn(name);
      const again = await house.readAgain?.(record.id);
      if (again?.ok !== true) throw new Error('not read');
      expect(again.value).toMatchObject({ checks: [], lost: [], fresh: [] });
      const after = await house.open(record.id);
      expect(after.ok && after.value.events).toEqual(record.events);
    },
  );

  test('touched results are taken as they were touched', async () => {
    const { house } = await houseFor(testWorld('2026-03-01T08:00:00Z'));
    const begun = await house.begin({
      aircraft: 'Rowan 2',
      catalogue: 'training-helicopter',
      circumstances: ['night'],
      pilot: 'A',
      instructor: null,
      hours: 100,
      ear: 'typed',
    });
    if (!begun.ok) throw new Error(begun.error);
    const check = house.walk.get()?.coverage.checks[0]?.check ?? '';
    await house.settle(check, 'good');
    await house.say('left skid tube is cracked, ground it');
    await house.finish();
    const again = await house.readAgain?.(begun.value);
    expect(again).toMatchObject({ ok: true, value: { checks: [], lost: [], fresh: [] } });
  });
});
