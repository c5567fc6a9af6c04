import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { heardOf } from '#capture';
import { squawksOf } from '#reconcile';
import type { Services, WalkRecord } from '#screens';
import { isTimed, lengthOf } from '#shared/length';
import { passedOver } from '../../src/screens/debrief/PassedOver.tsx';
import { talkOf, when } from '../../src/screens/debrief/talk.ts';
import { guessOf } from '../../src/screens/walks/whose.ts';
import { houseFor, testWorld } from './house.ts';

const WHOSE = {
  aircraft: 'Rowan 2',
  catalogue: 'training-helicopter',
  pilot: 'M. Alder',
  instructor: 'J. Reed',
  hours: 1204.5,
  begun: Date.parse('2026-02-14T09:30:00Z'),
};

async function record(house: Services, id: string): Promise<WalkRecord> {
  const opened = await house.open(id);
  if (!opened.ok) throw new Error(opened.error);
  return opened.value;
}

async function brought(house: Services, file: File, stop?: AbortSignal) {
  const outcome = await house.bringIn(file, WHOSE, () => undefined, stop);
  if (!outcome.ok) throw new Error(outcome.error);
  return { ...outcome.value, record: await record(house, outcome.value.walk ?? '') };
}

const seed = (name: string) => new File([readFileSync(`seeds/walks/${name}`)], name);

describe('a recording becomes a walk like any other', () => {
  test('who flew, who taught, hours and when are on its record, and on its line in the list', async () => {
    const { house } = await houseFor(testWorld('2026-03-01T08:00:00Z'));
    const made = await brought(house, seed('three-findings.txt'));
    expect(made.record.events[0]).toMatchObject({
      at: WHOSE.begun,
      what: { pilot: 'M. Alder', instructor: 'J. Reed', hours: 1204.5 },
    });
    expect(house.walks.get()[0]).toMatchObject({ pilot: 'M. Alder', begun: WHOSE.begun });
  });

  test('its findings become squawks, with its reporter and its hours', async () => {
    const { house, store } = await houseFor(testWorld('2026-03-01T08:00:00Z'));
    const made = await brought(house, seed('three-findings.txt'));
    const squawks = squawksOf(await store.squawkEvents());
    const standing = made.record.coverage.findings.filter((f) => f.settled !== 'taken-back');
    expect(standing.length).toBeGreaterThan(0);
    expect(squawks).toHaveLength(standing.length);
    for (const s of squawks) expect(s).toMatchObject({ reporter: 'M. Alder', hours: 1204.5 });
  });

  test('without times nothing is said of its pace: no length, no time at a station', async () => {
    const { house } = await houseFor(testWorld('2026-03-01T08:00:00Z'));
    const words = 'seat belts are good\nleft skid tube is cracked\nright skid tube is good\n';
    const made = await brought(house, new File([words], 'notes.txt'));
    expect(made.text).toContain('Its times are unknown.');
    expect(isTimed(made.record.events)).toBe(false);
    expect(lengthOf(made.record.events)).toBeNull();
    expect(made.record.coverage.times.every((t) => t.seconds === 0)).toBe(true);
    // On the axis they stand in their order, numbered, and none has a time.
    const talk = talkOf(made.record.catalogue, made.record.events, made.record.coverage);
    expect(talk.utterances.map((u) => when(talk, u.from))).toEqual(['1', '2', '3']);
    await house.count?.(house.walks.get().map((w) => w.id));
    expect(house.walks.get()[0]?.seconds).toBeNull();
  });

  test('with times they are the walk’s, however fast it was read', async () => {
    const { house } = await houseFor(testWorld('2026-03-01T08:00:00Z'));
    const made = await brought(house, seed('brisk-owner.vtt'));
    const last = Math.max(
      ...made.record.events.map(({ what }) => (what.kind === 'heard' ? (what.heard.to ?? 0) : 0)),
    );
    expect(lengthOf(made.record.events)).toBe(last);
    expect(made.text).not.toContain('unknown');
  });

  test('what was heard and taken for nothing can be seen', async () => {
    const { house } = await houseFor(testWorld('2026-03-01T08:00:00Z'));
    const file = new File(['the weather is lovely today\nseat belts are good\n'], 'talk.txt');
    const { record: r } = await brought(house, file);
    const talk = talkOf(r.catalogue, r.events, r.coverage);
    expect(talk.utterances.filter(passedOver).map((u) => u.heard.text)).toEqual([
      'the weather is lovely today',
    ]);
  });

  test('its sound is kept as it was, and each utterance points into it', async () => {
    const bytes = new Uint8Array(2_500_000).map((_, i) => i % 251);
    const heard = ['seat belts are good', 'left skid tube is cracked'].map((text, i) =>
      heardOf({ id: `f${i}`, by: 'sound-file', text, from: 4 * i, to: 4 * i + 2 }),
    );
    const { house, store } = await houseFor(testWorld('2026-03-01T08:00:00Z'), {
      hearSound: () => Promise.resolve({ ok: true, heard }),
    });
    house.change({ keepSound: true });
    const { record: r } = await brought(house, new File([bytes], 'memo.m4a'));
    const places = r.events.flatMap(({ what }) =>
      what.kind === 'heard' ? [what.heard.sound] : [],
    );
    const recording = places[0]?.recording ?? '';
    expect(places).toEqual([
      { recording, from: 0, to: 2 },
      { recording, from: 4, to: 6 },
    ]);
    const kept = await store.sound(recording);
    const whole = await new Blob(kept.chunks.map((c) => c.data)).arrayBuffer();
    expect(new Uint8Array(whole)).toEqual(bytes);
    expect(kept.mime).toBe('audio/mp4');
  });

  test('bad input: stopped before it is read, a file is not brought in, and says so', async () => {
    const { house } = await houseFor(testWorld('2026-03-01T08:00:00Z'));
    const stop = AbortSignal.abort();
    const outcome = await house.bringIn(seed('three-findings.txt'), WHOSE, () => undefined, stop);
    expect(outcome).toEqual({
      ok: false,
      error: 'Stopped: three-findings.txt was not brought in.',
    });
    expect(house.walks.get()).toEqual([]);
  });
});

describe('what a file tells by its name and date', () => {
  const dated = new Date(2026, 4, 5, 6, 7).getTime();
  const at = (y: number, m: number, d: number, h = 12, min = 0) =>
    new Date(y, m - 1, d, h, min).getTime();
  test.each([
    ['2026-03-01 0842 Rowan 2.m4a', at(2026, 3, 1, 8, 42), 'name', 'Rowan 2'],
    ['rowan2_20260301.wav', at(2026, 3, 1), 'name', 'Rowan 2'],
    ['Recording 20260301_084207.m4a', at(2026, 3, 1, 8, 42), 'name', null],
    ['2026-02-31 walk.txt', dated, 'date', null],
    ['memo 12.m4a', dated, 'date', null],
  ])('%s', (name, begun, from, aircraft) => {
    expect(guessOf({ name, lastModified: dated }, ['N1', 'Rowan 2'])).toEqual({
      begun,
      from,
      aircraft,
    });
  });
});
