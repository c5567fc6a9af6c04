import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { EventFormat } from '#shared/event';
import { memoryStore, verifyFile } from '#store';
import { BackupFormat } from '../../src/store/manifest.ts';
import { countingWorld } from './help.ts';
import { GUARDED, kept, linesOf } from './schema-lines.ts';

const fixture = (format: number) =>
  fileURLToPath(new URL(`./fixtures/backup-${format}.zip`, import.meta.url));
const formats = Array.from({ length: BackupFormat.version }, (_, i) => i + 1);

describe('every format of a backup that ever existed', () => {
  test.each(formats)('format %i has a fixture', (format) => {
    const how = `There is no backup of format ${format}. Write it with: node tests/load.mjs tests/store/make-fixture.ts`;
    expect(existsSync(fixture(format)), how).toBe(true);
  });

  test.each(formats)('format %i restores whole and verifies', async (format) => {
    const bytes = new Uint8Array(readFileSync(fixture(format)));
    expect(await verifyFile(bytes)).toMatchObject({ ok: true, broken: null });
    const store = await memoryStore(countingWorld(70));
    const restored = await store.restore(bytes);
    expect(restored).toMatchObject({ ok: true, refused: [] });
    expect(await store.unreadable()).toEqual([]);
    expect(await store.verify()).toMatchObject({ ok: true, gaps: [] });
  });

  test('format 1 gives back what was in it', async () => {
    const store = await memoryStore(countingWorld(70));
    const restored = await store.restore(new Uint8Array(readFileSync(fixture(1))));
    expect(restored).toMatchObject({
      events: { added: 13 },
      catalogues: { added: 1 },
      sound: { added: 2 },
    });
    const [walk] = await store.walks();
    expect(walk).toMatchObject({
      pilot: 'P. Heron',
      instructor: 'A. Wren',
      finished: true,
      decision: 'ground',
      signed: 'P. Heron',
      sealed: true,
      own: false,
    });
    expect(await store.catalogue(walk?.edition ?? '')).toMatchObject({ id: 'small-helicopter' });
    expect((await store.sound('walk-sound')).chunks).toHaveLength(2);
  });

  test('every upcaster is for a format that has a fixture', () => {
    for (const format of [BackupFormat, EventFormat])
      for (const from of Object.keys(format.upcasters)) expect(formats).toContain(Number(from));
  });
});

describe.each(GUARDED)('the schema of the $name', ({ name, schema, file }) => {
  const before = kept(file);
  const now = linesOf(schema, name);

  test('has lost and changed nothing', () => {
    const gone = before.filter((line) => !now.includes(line));
    expect(
      gone,
      `What was written once has to be read for ever. Put these back, or raise the version of the ${name}, write an upcaster for the old one and a new fixture.`,
    ).toEqual([]);
  });

  test('is the one that was committed', () => {
    const fresh = now.filter((line) => !before.includes(line));
    expect(
      fresh,
      `New fields: record them with "node tests/load.mjs tests/store/schema-lines.ts" and commit ${file}.`,
    ).toEqual([]);
  });

  test('asks for no new field in a record that old files have without it', () => {
    // A kind that is new may ask for what it likes, and so may a new kind inside an old one; a
    // field of an old kind may be left out.
    const kindOf = (line: string) => line.slice(0, line.lastIndexOf('>') + 1);
    const old = new Set(before.map(kindOf));
    const fresh = now.filter((line) => !before.includes(line) && old.has(kindOf(line)));
    const asked = fresh.filter((line) => !line.includes('?') && !line.includes(' = '));
    expect(
      asked,
      'Make these optional (.optional() or .default()): old events do not have them.',
    ).toEqual([]);
  });
});
