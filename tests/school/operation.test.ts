import { mkdtempSync, openAsBlob, rmSync } from 'node:fs';
import { readFile, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import {
  BlobReader,
  BlobWriter,
  TextReader,
  TextWriter,
  ZipReader,
  ZipWriter,
  type FileEntry,
} from '@zip.js/zip.js';
import { sql } from 'kysely';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Learned } from '#shared/phrasebook';
import { openDatabase, type Database } from '#school';
import { sha256Hex } from '#store/pure';
import { backUp, restore } from '../../src/school/backup.ts';
import { migrate } from '../../src/school/migrations.ts';
import { PEOPLE_LISTS } from '../../src/school/tables-people.ts';
import {
  AIRCRAFT,
  memoryBlobs,
  opened,
  schoolStage,
  STARTING,
  type Device,
  type Stage,
} from './stage.ts';

let stage: Stage;
const folder = mkdtempSync(join(tmpdir(), 'talkround-operation-'));
beforeAll(async () => {
  stage = await schoolStage();
}, STARTING);
afterAll(async () => {
  await stage.close();
  rmSync(folder, { recursive: true, force: true });
});

const PICTURE = Uint8Array.from([0xff, 0xd8, 0xff, 19, 19, 19]);

/** A walk with everything that is kept beside it, and its squawk. */
async function everything(device: Device, words: string) {
  const walk = await device.walk({
    open: true,
    words: [words],
    sound: Uint8Array.from([1, 2, 3, 4, 5]),
  });
  await device.store.keepPicture({
    walk,
    aircraft: AIRCRAFT,
    t: null,
    picture: `picture-${walk}`,
    of: { kind: 'finding', statement: 's-1' },
    mime: 'image/jpeg',
    width: 3,
    height: 2,
    data: Uint8Array.from(PICTURE).buffer,
  });
  const step = opened(`squawk-${walk}`, words);
  if (step.kind === 'squawk' && step.step.step === 'opened')
    await device.write({ ...step, step: { ...step.step, statement: 's-1' } }, { walk });
  await device.sync();
  return walk;
}

test('19: the log of the server is one flat line a request, with not a word, a name, a code or an aircraft in it, whatever is asked', async () => {
  const chief = await stage.joined('Secret Chief', ['chief']);
  const phone = await stage.joined('Secret Name', ['pilot']);
  const other = await stage.joined('Secret Mechanic', ['maintenance']);
  await everything(phone, 'a very secret sentence');
  await other.sync();
  await other.in().picture(sha256Hex(PICTURE));
  await chief.in().addPerson('Secret Person', ['pilot']);
  const { code } = await chief.in().invite(null);
  const { terms } = await chief.in().hello([]);
  await chief.in().setTerms(terms);
  await chief.in().eraseSoundOf(other.person ?? '');
  // What is refused, and what is nowhere, has words in its address.
  await phone
    .in()
    .addPerson('Secret Intruder', ['chief'])
    .catch(() => undefined);
  await phone
    .in()
    .sound('secret-hash')
    .catch(() => undefined);
  await phone
    .in()
    .feed('secret-cursor')
    .catch(() => undefined);
  await fetch(`${stage.base}secret/address?secret=query`);
  // A failure of the database quotes values in its own message.
  await sql`alter table deed rename to deed_away`.execute(stage.database.sql);
  await chief
    .in()
    .addPerson('Secret Failure', ['pilot'])
    .catch(() => undefined);
  await sql`alter table deed_away rename to deed`.execute(stage.database.sql);

  const log = stage.lines.map((line) => JSON.stringify(line)).join('\n');
  for (const route of ['events', 'pieces', 'wanted', 'pictures/*', 'people', 'terms', '?'])
    expect(log).toContain(`"route":"${route}"`);
  expect(log).toContain('"what":"failed"');
  for (const word of ['ecret', 'Chief', AIRCRAFT, code, 'drive belts', 'query'])
    expect([word, log.includes(word)]).toEqual([word, false]);
  const fields = new Set(stage.lines.flatMap((line) => Object.keys(line)));
  expect([...fields].sort()).toEqual(
    ['at', 'device', 'error', 'method', 'ms', 'route', 'status', 'what'].sort(),
  );
});

test(
  '19: /health says no when the database does not answer, so that a proxy asks another server',
  async () => {
    const sick = await schoolStage();
    const at = sick.base.replace('/school/', '/health');
    expect((await fetch(at)).status).toBe(200);
    await sick.database.close();
    const answer = await fetch(at);
    expect(answer.status).toBe(503);
    expect(await answer.json()).toMatchObject({ ok: false });
    // Nobody is served meanwhile, and nothing ends the server.
    await expect((await sick.device('Nobody')).in().hello([])).rejects.toThrow();
    await sick.close().catch(() => undefined);
  },
  STARTING,
);

/** The rows of everything that is kept beside the log. */
const beside = async (database: Database) => ({
  sound: await database.sql
    .selectFrom('sound')
    .selectAll()
    .orderBy('recording')
    .orderBy('chunk')
    .execute(),
  shown: await database.sql.selectFrom('picture_shown').selectAll().orderBy('seq').execute(),
  squawks: await database.sql.selectFrom('picture_squawk').selectAll().orderBy('walk').execute(),
});

test(
  '19: a backup holds sound and pictures; a piece that the disk has lost is told and keeps the rest from nothing',
  async () => {
    const phone = await stage.joined('B. Birch', ['pilot']);
    await everything(phone, 'backed up');
    const lost = Uint8Array.from([7, 7, 7, 1]);
    await phone.walk({ sound: lost });
    await phone.sync();
    stage.blobs.all.delete(sha256Hex(lost));
    const file = join(folder, 'school.zip');
    const lines = await backUp(stage.database, stage.blobs, file, 0);
    expect(lines[1]).toContain('1 pieces of sound or pictures are missing');
    const empty = await openDatabase('memory');
    const blobs = memoryBlobs();
    try {
      expect((await restore(empty, blobs, file))[0]).toContain('all verified');
      expect(blobs.all.get(sha256Hex(PICTURE))).toEqual(PICTURE);
      expect(blobs.all.has(sha256Hex(lost))).toBe(false);
      expect(await beside(empty)).toEqual(await beside(stage.database));
    } finally {
      await empty.close();
    }
  },
  STARTING * 2,
);

test(
  '19: a school of before pictures travelled: its tables are brought up to date, an old backup too, and its phones are asked for them',
  async () => {
    const phone = await stage.joined('C. Cedar', ['pilot']);
    await everything(phone, 'of before');
    await phone.write({ kind: 'learned', learned: TAUGHT });
    await phone.sync();
    const now = await beside(stage.database);
    const file = join(folder, 'new.zip');
    await backUp(stage.database, stage.blobs, file, 0);
    const old = join(folder, 'old.zip');
    await asBefore(file, old);
    const empty = await openDatabase('memory');
    try {
      await restore(empty, memoryBlobs(), old);
      const then = await beside(empty);
      const pictures = (rows: typeof now.sound) =>
        rows
          .filter((r) => r.picture)
          .map((r) => [r.hash, r.device, r.walk, r.squawk, r.named, r.dropped]);
      expect(pictures(then.sound)).toEqual(pictures(now.sound));
      expect(then.sound.filter((r) => r.picture && r.kept === null).length).toBeGreaterThan(0);
      expect(then.squawks).toEqual(now.squawks);
      expect(await learned(empty)).toEqual(await learned(stage.database));

      // The same by the migration, on tables and rows as they were.
      for (const statement of AS_BEFORE) await sql.raw(statement).execute(empty.sql);
      await migrate(empty.sql);
      const migrated = await beside(empty);
      expect(pictures(migrated.sound)).toEqual(pictures(now.sound));
      expect(migrated.squawks).toEqual(now.squawks);
      expect(migrated.shown).toEqual(then.shown);
      expect(await learned(empty)).toEqual(await learned(stage.database));
      await migrate(empty.sql);
    } finally {
      await empty.close();
    }
  },
  STARTING * 2,
);

test(
  '19: a backup to nowhere, of nothing, of another file and of half of one: one sentence each, and nothing is restored',
  async () => {
    const nowhere = join(folder, 'no-folder', 'x.zip');
    await expect(backUp(stage.database, stage.blobs, nowhere, 0)).rejects.toThrow(
      `The backup cannot be written to ${nowhere}.`,
    );
    const good = join(folder, 'good.zip');
    await backUp(stage.database, stage.blobs, good, 0);
    const [half, other] = [join(folder, 'half.zip'), join(folder, 'other.zip')];
    const bytes = await readFile(good);
    await writeFile(half, bytes.subarray(0, bytes.length / 2));
    await writeFile(other, 'minutes of the meeting');
    const empty = await openDatabase('memory');
    try {
      for (const [file, why] of [
        [join(folder, 'none.zip'), 'cannot be read: there is no such file'],
        [other, 'is no backup of a school, or it was cut off'],
        [half, 'is no backup of a school, or it was cut off'],
      ] as const)
        await expect(restore(empty, memoryBlobs(), file)).rejects.toThrow(`${file} ${why}`);
      expect(await empty.sql.selectFrom('school').select('id').execute()).toEqual([]);
    } finally {
      await empty.close();
    }
  },
  STARTING * 2,
);

const TAUGHT: Learned = {
  id: 'learned-1',
  phrase: 'the rubber bits',
  means: { is: 'check', check: 'drive-belts' },
  speaker: 'C. Cedar',
  from: 's1',
  told: 'the rubber bits, told',
};

/** What was learned, and who gets it: without it nobody could agree to the terms. */
async function learned(database: Database) {
  const phrases = await database.sql
    .selectFrom('phrase')
    .select(['id', 'seq', 'aircraft', 'person', 'device'])
    .orderBy('id')
    .execute();
  expect(phrases.map((p) => p.id)).toContain(TAUGHT.id);
  return { phrases, schools: await database.sql.selectFrom('school').select('terms').execute() };
}

/** Tables and rows as the first migration made them. */
const AS_BEFORE = [
  `delete from sound where picture`,
  `alter table sound drop column picture, drop column statement, drop column squawk, drop column named`,
  `drop table picture_squawk, picture_shown, squawk_settled, unkept, nonce`,
  `create table nonce (school text not null, who text not null, nonce text not null,
    at bigint not null, primary key (school, who, nonce))`,
  `drop table aircraft_was, aircraft, passkey, challenge, phrase`,
  `alter table device drop column passkey`,
  `drop index walk_aircraft`,
  `update school set terms = terms - 'phrases'`,
  `delete from kysely_migration where name > '0001-school'`,
];

/** The backup that an older version would have written. */
async function asBefore(from: string, to: string): Promise<void> {
  const zip = new ZipReader(new BlobReader(await openAsBlob(from)), { useWebWorkers: false });
  const files = new Map<string, FileEntry>();
  for (const entry of await zip.getEntries())
    if (!entry.directory) files.set(entry.filename, entry);
  const text = async (name: string) => (await files.get(name)?.getData(new TextWriter())) ?? '';
  const lists = JSON.parse(await text('school.json')) as Record<string, Record<string, unknown>[]>;
  const later = new Set<string>([
    'picture_squawk',
    'picture_shown',
    'squawk_settled',
    ...PEOPLE_LISTS,
  ]);
  const columns = new Set(['picture', 'statement', 'squawk', 'named', 'passkey']);
  const old = Object.entries(lists).filter(([list]) => !later.has(list));
  const without = (row: Record<string, unknown>) =>
    Object.fromEntries(Object.entries(row).filter(([column]) => !columns.has(column)));
  const school = JSON.stringify({
    ...Object.fromEntries(old),
    sound: lists['sound']?.filter((row) => row['picture'] !== true).map(without),
    device: lists['device']?.map(without),
    school: lists['school']?.map(({ terms, ...row }) => ({
      ...row,
      terms: typeof terms === 'object' ? { ...terms, phrases: undefined } : terms,
    })),
  });
  const events = await text('events.jsonl');
  const manifest = JSON.parse(await text('manifest.json')) as { files: Record<string, string> };
  manifest.files = { 'school.json': sha256Hex(school), 'events.jsonl': sha256Hex(events) };
  const out = new ZipWriter(new BlobWriter(), { useWebWorkers: false });
  await out.add('school.json', new TextReader(school));
  await out.add('events.jsonl', new TextReader(events));
  await out.add('manifest.json', new TextReader(JSON.stringify(manifest)));
  await writeFile(to, Buffer.from(await (await out.close()).arrayBuffer()));
}
