import { join } from 'node:path';
import { backUp, restore } from './backup.ts';
import { askBackup } from './control.ts';
import type { Handler, Parts } from './index.ts';
import {
  chiefsCode,
  deleteUnkept,
  eraseExpired,
  folderBlobs,
  foundSchool,
  newsFrom,
  onlySchool,
  openDatabase,
  realClock,
  s3Blobs,
  schoolHandler,
  StoreAway,
} from './index.ts';
import type { Blobs, Database, LogLine } from './index.ts';
import { lockFolder } from './lock.ts';

export { startControl } from './control.ts';

/** What the surroundings say; everything has an answer without them. */
export interface Surroundings {
  /** A PostgreSQL 15 or later instead of the embedded database. */
  readonly DATABASE_URL?: string | undefined;
  /** A bucket that speaks S3 instead of the folder, with its keys. */
  readonly SCHOOL_S3_URL?: string | undefined;
  readonly SCHOOL_S3_REGION?: string | undefined;
  readonly AWS_ACCESS_KEY_ID?: string | undefined;
  readonly AWS_SECRET_ACCESS_KEY?: string | undefined;
}

export interface SchoolOptions {
  readonly folder: string;
  /** Names for a school that is founded now. */
  readonly name?: string | undefined;
  readonly chief?: string | undefined;
  readonly surroundings?: Surroundings;
  readonly log?: (line: LogLine) => void;
  /** Requests of one device in ten seconds; left out: the usual. */
  readonly rate?: number;
}

export interface OpenSchool {
  readonly answer: Handler;
  readonly parts: Parts;
  readonly school: string;
  /** Joins the first phone of the chief; null once there is one. */
  readonly code: string | null;
  close(): Promise<void>;
}

/** How often sound that is too old is looked for, milliseconds. */
const LOOK = 3_600_000;

/** One JSON object a line, to standard error: what is printed for people stays clean. */
export function logLine(line: LogLine): void {
  process.stderr.write(`${JSON.stringify(line)}\n`);
}

/** Opens the school in a folder, founding it when there is none. */
export async function openSchool(options: SchoolOptions): Promise<OpenSchool> {
  const { folder, surroundings = {}, log = logLine } = options;
  const { database, release } = await ownDatabase(folder, surroundings);
  const blobs = blobsFrom(folder, surroundings);
  const clock = realClock;
  try {
    await blobs.check();
  } catch (error) {
    // Wrong settings are told at once; a store that is away keeps nobody from talking.
    if (error instanceof StoreAway && error.forGood) {
      await database.close();
      release();
      throw error;
    }
    log({ at: clock.now(), what: 'sound cannot be kept now', error: messageOf(error) });
  }
  const school =
    (await onlySchool(database)) ??
    (await foundSchool(
      database,
      clock,
      options.name ?? 'Our school',
      options.chief ?? 'Chief',
      true,
    ));
  const invitation = await chiefsCode(database, clock, school);
  const news = await newsFrom(database);
  const parts: Parts = {
    database,
    blobs,
    clock,
    news,
    log,
    ...(options.rate === undefined ? {} : { rate: options.rate, guesses: options.rate }),
  };
  async function sweep(): Promise<void> {
    try {
      await eraseExpired(database, clock);
      await deleteUnkept(database, blobs);
    } catch {
      log({ at: clock.now(), what: 'sweep failed' });
    }
  }
  await sweep();
  const timer = setInterval(() => void sweep(), LOOK);
  timer.unref();
  return {
    answer: schoolHandler(parts),
    parts,
    school,
    code: invitation?.code ?? null,
    async close() {
      clearInterval(timer);
      await database.close();
      release();
    },
  };
}

/** Of our own errors, which quote nothing that anybody said. */
const messageOf = (error: unknown) => (error instanceof StoreAway ? error.message : 'unknown');

export function blobsFrom(folder: string, surroundings: Surroundings): Blobs {
  const url = surroundings.SCHOOL_S3_URL;
  if (url === undefined || url === '') return folderBlobs(join(folder, 'sound'));
  const { AWS_ACCESS_KEY_ID: accessKeyId, AWS_SECRET_ACCESS_KEY: secretAccessKey } = surroundings;
  if (!accessKeyId || !secretAccessKey)
    throw new Error('SCHOOL_S3_URL needs AWS_ACCESS_KEY_ID and AWS_SECRET_ACCESS_KEY beside it.');
  return s3Blobs({
    url,
    accessKeyId,
    secretAccessKey,
    region: surroundings.SCHOOL_S3_REGION ?? 'us-east-1',
  });
}

/** Backs the school up, through the server when one is running. @returns lines for the screen */
export async function backUpSchool(
  folder: string,
  file: string,
  surroundings: Surroundings,
): Promise<readonly string[]> {
  const asked = await askBackup(folder, file);
  if (asked !== null) return asked;
  const { database, release } = await ownDatabase(folder, surroundings);
  try {
    if ((await onlySchool(database)) === null) throw new Error(`There is no school in ${folder}.`);
    return await backUp(database, blobsFrom(folder, surroundings), file, Date.now());
  } finally {
    await database.close();
    release();
  }
}

/** Restores a backup into an empty folder or database. @returns lines for the screen */
export async function restoreSchool(
  folder: string,
  file: string,
  surroundings: Surroundings,
): Promise<readonly string[]> {
  const { database, release } = await ownDatabase(folder, surroundings);
  try {
    return await restore(database, blobsFrom(folder, surroundings), file);
  } finally {
    await database.close();
    release();
  }
}

/** The database of a folder, for nobody else meanwhile; a PostgreSQL has room for many. */
async function ownDatabase(
  folder: string,
  { DATABASE_URL: url }: Surroundings,
): Promise<{ database: Database; release: () => void }> {
  if (url !== undefined && url !== '')
    return { database: await openDatabase({ url }), release: () => undefined };
  const release = lockFolder(folder);
  try {
    return { database: await openDatabase({ folder: join(folder, 'database') }), release };
  } catch (error) {
    release();
    throw error;
  }
}
