import { createWriteStream, openAsBlob } from 'node:fs';
import { open, rename } from 'node:fs/promises';
import { Writable } from 'node:stream';
import {
  BlobReader,
  TextReader,
  TextWriter,
  Uint8ArrayReader,
  Uint8ArrayWriter,
  ZipReader,
  ZipWriter,
  type Entry,
  type FileEntry,
} from '@zip.js/zip.js';
import { sql, type Transaction } from 'kysely';
import { z } from 'zod';
import { canonical, hashFits, linkOf, sha256Hex, type Raw } from '#store/pure';
import type { Blobs } from './blobs.ts';
import type { Database } from './database.ts';
import { nameOldPictures } from './migrate-store.ts';
import { OLD_LEARNED } from './migrations-people.ts';
import { PEOPLE_LISTS } from './tables-people.ts';
import type { Tables } from './tables.ts';

/**
 * A backup of a school is a zip: `school.json` with the rows of every list,
 * `events.jsonl` with the log, a line an event, in the order in which it was
 * taken in, `sound/HASH`, and `manifest.json` with the SHA-256 of every other
 * file. Codes, nonces and desks that wait are left out: they are good for minutes.
 */
const LISTS = [
  'school',
  'person',
  'teaches',
  'device',
  'walk',
  'sound',
  'picture_squawk',
  'picture_shown',
  'squawk_settled',
  'catalogue',
  'refusal',
  'deed',
  ...PEOPLE_LISTS,
] as const;
type List = (typeof LISTS)[number];

/** Rows read or written at once. */
const ROWS = 1_000;

const Manifest = z.object({
  format: z.literal('talkround-school'),
  v: z.literal(1),
  made: z.number(),
  files: z.record(z.string(), z.string()),
  events: z.number().int(),
});

/** Writes everything of one moment into a file; the server goes on meanwhile. @returns lines for the screen */
export async function backUp(
  database: Database,
  blobs: Blobs,
  file: string,
  now: number,
): Promise<readonly string[]> {
  const part = `${file}.part`;
  // Before anything is read: a folder that is not there ends nothing but this.
  try {
    await (await open(part, 'w', 0o600)).close();
  } catch (cause) {
    throw new Error(
      `The backup cannot be written to ${file}. Name a file in a folder that is there and that the server may write to.`,
      { cause },
    );
  }
  const out = Writable.toWeb(createWriteStream(part, { mode: 0o600 }));
  const zip = new ZipWriter(out, { level: 0, useWebWorkers: false, zip64: true });
  const files: Record<string, string> = {};
  async function add(name: string, text: string): Promise<void> {
    files[name] = sha256Hex(text);
    await zip.add(name, new TextReader(text));
  }
  const { lists, events } = await database.sql
    .transaction()
    .setIsolationLevel('repeatable read')
    .execute(async (tx) => {
      const found: Partial<Record<List, readonly unknown[]>> = {};
      for (const list of LISTS) found[list] = await tx.selectFrom(list).selectAll().execute();
      return { lists: found, events: await eventLines(tx) };
    });
  await add('school.json', JSON.stringify(lists));
  await add('events.jsonl', events.join('\n'));
  let pieces = 0;
  let missing = 0;
  const kept = z
    .array(z.object({ school: z.string(), hash: z.string(), kept: z.number().nullable() }))
    .parse(lists.sound);
  for (const { school, hash } of kept.filter((row) => row.kept !== null)) {
    const name = `sound/${school}/${hash}`;
    if (name in files) continue;
    const bytes = await blobs.get(school, hash);
    if (bytes === null) {
      missing += 1;
      continue;
    }
    files[name] = sha256Hex(bytes);
    await zip.add(name, new Uint8ArrayReader(bytes));
    pieces += 1;
  }
  const manifest = { format: 'talkround-school', v: 1, made: now, files, events: events.length };
  await zip.add('manifest.json', new TextReader(JSON.stringify(manifest)));
  await zip.close();
  await rename(part, file);
  return [
    `Backed up: ${events.length} events, ${pieces} pieces of sound and pictures, to ${file}.`,
    ...(missing > 0
      ? [
          `${missing} pieces of sound or pictures are missing where they should lie, or were erased meanwhile; they are not in the backup.`,
        ]
      : []),
  ];
}

async function eventLines(tx: Transaction<Tables>): Promise<string[]> {
  const lines: string[] = [];
  const schools = await tx.selectFrom('school').select('id').orderBy('id').execute();
  for (const { id } of schools)
    for (let after = 0; ;) {
      const rows = await tx
        .selectFrom('event')
        .where('school', '=', id)
        .where('seq', '>', after)
        .selectAll()
        .orderBy('seq')
        .limit(ROWS)
        .execute();
      for (const row of rows) lines.push(JSON.stringify(row));
      const last = rows.at(-1);
      if (last === undefined) break;
      after = last.seq;
    }
  return lines;
}

const EventLine = z.object({
  school: z.string(),
  seq: z.number(),
  hash: z.string(),
  id: z.string(),
  device: z.string(),
  walk: z.string().nullable(),
  within: z.string().nullable(),
  aircraft: z.string().nullable(),
  kind: z.string(),
  prev: z.string().nullable(),
  text: z.string(),
  arrived: z.number(),
  aside: z.string().nullable(),
});

/**
 * Restores a backup into an empty database, whole or not at all: every file by
 * its hash, every event by its own hash and by the link to the one before it.
 * Throws one sentence otherwise.
 */
export async function restore(
  database: Database,
  blobs: Blobs,
  file: string,
): Promise<readonly string[]> {
  const there = await database.sql.selectFrom('school').select('id').executeTakeFirst();
  if (there !== undefined)
    throw new Error('There is a school here already. Restore into an empty folder or database.');
  const zip = new ZipReader(new BlobReader(await blobOf(file)), { useWebWorkers: false });
  const entries = new Map<string, FileEntry>();
  for (const entry of await entriesOf(zip, file))
    if (!entry.directory) entries.set(entry.filename, entry);
  const manifest = Manifest.safeParse(JSON.parse(await textOf(entries, 'manifest.json')));
  if (!manifest.success) throw new Error(`${file} is no backup of a school.`);
  const { files, events } = manifest.data;
  const checked = async (name: string): Promise<string> => {
    const text = await textOf(entries, name);
    if (sha256Hex(text) !== files[name])
      throw new Error(
        `${name} in this backup was changed after it was made. Nothing was restored.`,
      );
    return text;
  };
  const lists = z
    .record(z.string(), z.array(z.record(z.string(), z.unknown())))
    .parse(JSON.parse(await checked('school.json')));
  const lines = (await checked('events.jsonl')).split('\n').filter((line) => line !== '');
  if (lines.length !== events)
    throw new Error(`This backup should have ${events} events, and has ${lines.length}.`);
  const rows = lines.map((line) => EventLine.parse(JSON.parse(line)));
  const wrong = chainTrouble(rows);
  if (wrong !== null) throw new Error(`${wrong} Nothing was restored.`);
  // The sound before the rows that say that it is here.
  const sounds = Object.keys(files).filter((name) => name.startsWith('sound/'));
  for (const name of sounds) {
    const [, school = '', hash = ''] = name.split('/');
    const entry = entries.get(name);
    const bytes = await entry?.getData(new Uint8ArrayWriter());
    if (bytes === undefined || !/^[\w-]+$/.test(school) || sha256Hex(bytes) !== hash)
      throw new Error(`The sound ${hash} in this backup is not what it was. Nothing was restored.`);
    await blobs.put(school, hash, bytes);
  }
  await database.sql.transaction().execute(async (tx) => {
    for (const list of LISTS) await insert(tx, list, lists[list] ?? []);
    await insert(tx, 'event', rows);
    if (lists['picture_shown'] === undefined) await nameOldPictures<Tables>(tx);
    if (lists['phrase'] === undefined)
      for (const statement of OLD_LEARNED) await sql.raw(statement).execute(tx);
    // Everybody asks for everything again: cursors of the old server may lie ahead of this log.
    await tx
      .updateTable('school')
      .set((e) => ({ epoch: e('epoch', '+', 1) }))
      .execute();
  });
  await zip.close();
  return [
    `Restored: ${rows.length} events, ${sounds.length} pieces of sound and pictures, all verified.`,
    'What phones have brought since the backup was made they bring again by themselves.',
  ];
}

async function blobOf(file: string): Promise<Blob> {
  try {
    return await openAsBlob(file);
  } catch (cause) {
    throw new Error(`${file} cannot be read: there is no such file, or it may not be read.`, {
      cause,
    });
  }
}

async function entriesOf(zip: ZipReader<Blob>, file: string): Promise<readonly Entry[]> {
  try {
    return await zip.getEntries();
  } catch (cause) {
    throw new Error(
      `${file} is no backup of a school, or it was cut off: take another. Nothing was restored.`,
      { cause },
    );
  }
}

async function textOf(entries: ReadonlyMap<string, FileEntry>, name: string): Promise<string> {
  const entry = entries.get(name);
  if (entry === undefined) throw new Error(`This is no backup of a school: it has no ${name}.`);
  return entry.getData(new TextWriter());
}

/** Null when every event is what was written, and each that counts follows one that is here, or begins. */
function chainTrouble(rows: readonly z.infer<typeof EventLine>[]): string | null {
  const hashes = new Set<string>();
  for (const row of rows) {
    let raw: Raw;
    try {
      raw = JSON.parse(row.text) as Raw;
    } catch {
      return `Event ${row.id} cannot be read.`;
    }
    const link = linkOf(raw);
    if (link === null || link.hash !== row.hash || link.id !== row.id || link.device !== row.device)
      return `Event ${row.id} is not the one that the list names.`;
    if (!hashFits(raw, link.hash) || canonical(raw) !== row.text)
      return `Event ${row.id} was changed after it was written.`;
    hashes.add(`${row.school} ${row.device} ${row.hash}`);
  }
  for (const row of rows) {
    // A walk is here from its beginning; what came before it on its device need not be.
    if (row.aside !== null || row.prev === null || row.walk === null) continue;
    if (BEGINS.has(row.kind)) continue;
    if (!hashes.has(`${row.school} ${row.device} ${row.prev}`))
      return `The event before ${row.id} is missing.`;
  }
  return null;
}

/** Kinds before which a device's chain may have a hole: see `verifyEvents`. */
const BEGINS: ReadonlySet<string> = new Set([
  'walk-begun',
  'reviewed',
  'amendment',
  'sound-erased',
  'picture-erased',
  'sealed',
]);

/** The very columns that were read, each as a parameter. */
async function insert(
  tx: Transaction<Tables>,
  table: List | 'event',
  rows: readonly Readonly<Record<string, unknown>>[],
): Promise<void> {
  for (let at = 0; at < rows.length; at += ROWS)
    for (const row of rows.slice(at, at + ROWS)) {
      const columns = Object.keys(row);
      const values = columns.map((c) =>
        JSONS.has(`${table}.${c}`) ? JSON.stringify(row[c]) : row[c],
      );
      await sql`insert into ${sql.table(table)} (${sql.join(columns.map((c) => sql.ref(c)))})
        values (${sql.join(values)})`.execute(tx);
    }
}

const JSONS: ReadonlySet<string> = new Set(['school.terms', 'device.editions']);
