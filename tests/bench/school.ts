import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openDatabase, realClock, type Database } from '#school';
import { invite } from '../../src/school/joining.ts';
import { addPerson, changePerson } from '../../src/school/people.ts';
import { SchoolAway } from '#sync';
import { schoolServer } from '../ordeal/school-server.ts';
import { makeDevice, type Device } from '../school/stage.ts';
import { startPostgres } from '../school/postgres.ts';

/**
 * How much a school's server carries, on both databases in one run: every device
 * brings its walks over real HTTP, each with a signature of its own.
 *
 *   npm run bench:school -- [--json] [--devices 10,100,1000] [--walks 3]
 */
export interface SchoolBench {
  readonly store: Database['kind'];
  readonly devices: number;
  readonly walks: number;
  /** Events taken in a second, all devices together. */
  readonly eventsPerSecond: number;
  /** 95 % of the rounds that bring one walk took no longer, milliseconds. */
  readonly syncP95Ms: number;
  /** The desk's first page of walks, the middle of 21, milliseconds. */
  readonly deskListMs: number;
  /** Resident memory of the server at the end. */
  readonly memoryMb: number;
}

/** Devices that talk at the same moment: phones of a school come home one by one. */
const AT_ONCE = 8;
/** Utterances of a walk: with what belongs to it, a walk of 45 events. */
const WORDS = 40;
const LISTS = 21;

export async function benchSchool(
  where: { readonly url?: string | undefined },
  devices: number,
  walksEach: number,
): Promise<SchoolBench> {
  const folder = mkdtempSync(join(tmpdir(), 'talkround-bench-school-'));
  const at = where.url === undefined ? { folder: join(folder, 'database') } : { url: where.url };
  const { codes, instructor } = await prepared(at, folder, devices);
  const server = await schoolServer({ folder, url: where.url, rate: 1_000_000 });
  try {
    const base = `http://127.0.0.1:${server.port}/school/`;
    const all: Device[] = [];
    for (const [i, code] of codes.entries()) {
      const device = await makeDevice(base, `Pilot ${i}`);
      await patiently(() => device.join(code));
      all.push(device);
    }
    const words = Array.from(
      { length: WORDS },
      (_, i) => `item ${i} is good, condition and security`,
    );
    // Made first, so that only the school is measured.
    for (const device of all) for (let n = 0; n < walksEach; n += 1) await device.walk({ words });
    const logs = await Promise.all(all.map((device) => device.store.ownLog(null)));
    const events = logs.reduce((sum, log) => sum + log.length, 0);
    const took: number[] = [];
    const began = performance.now();
    await inTurns(all, AT_ONCE, async (device, i) => {
      const log = logs[i] ?? [];
      const each = Math.ceil(log.length / walksEach);
      for (let from = 0; from < log.length; from += each) {
        const start = performance.now();
        await patiently(() => device.in().hello([]));
        await patiently(() => device.in().events(log.slice(from, from + each)));
        took.push(performance.now() - start);
      }
    });
    const seconds = (performance.now() - began) / 1000;
    const desk = await makeDevice(base, 'Instructor');
    await desk.join(instructor);
    const lists: number[] = [];
    for (let i = 0; i < LISTS; i += 1) {
      const start = performance.now();
      await desk.in().walks(null);
      lists.push(performance.now() - start);
    }
    return {
      store: where.url === undefined ? 'pglite' : 'postgres',
      devices,
      walks: devices * walksEach,
      eventsPerSecond: Math.round(events / seconds),
      syncP95Ms: round(quantile(took, 0.95)),
      deskListMs: round(quantile(lists, 0.5)),
      memoryMb: residentMb(server.pid()),
    };
  } finally {
    await server.kill();
    rmSync(folder, { recursive: true, force: true });
  }
}

/** People, and a code for each device, before the server has the database. */
async function prepared(
  at: { folder: string } | { url: string },
  folder: string,
  devices: number,
): Promise<{ codes: string[]; instructor: string }> {
  const { openSchool } = await import('../../src/school/main.ts');
  const opened = await openSchool({
    folder,
    ...('url' in at ? { surroundings: { DATABASE_URL: at.url } } : {}),
    log: () => undefined,
  });
  const { school } = opened;
  await opened.close();
  const database = await openDatabase(at);
  try {
    const codes: string[] = [];
    const students: string[] = [];
    for (let i = 0; i < devices; i += 1) {
      const name = `Pilot ${i}`;
      const person = await addPerson(database, realClock, school, { name, roles: ['pilot'] });
      students.push(person);
      codes.push((await invite(database, realClock, school, 'bench', person)).code);
    }
    const teacher = { name: 'Instructor', roles: ['instructor' as const] };
    const id = await addPerson(database, realClock, school, teacher);
    await changePerson(database, realClock, school, id, { students });
    const { code } = await invite(database, realClock, school, 'bench', id);
    // Codes are good for ten minutes, and making a thousand devices may take longer.
    await database.sql
      .updateTable('invitation')
      .set({ expires: Date.now() + 24 * 3_600_000 })
      .execute();
    return { codes, instructor: code };
  } finally {
    await database.close();
  }
}

/** A connection that lay idle may be closed just now: the phone asks again, and so do we. */
async function patiently<T>(ask: () => Promise<T>): Promise<T> {
  for (let tries = 1; ; tries += 1) {
    try {
      return await ask();
    } catch (error) {
      if (!(error instanceof SchoolAway) || tries === 3) throw error;
    }
  }
}

async function inTurns<T>(
  list: readonly T[],
  atOnce: number,
  run: (item: T, index: number) => Promise<void>,
): Promise<void> {
  let next = 0;
  const worker = async () => {
    for (;;) {
      const index = next;
      next += 1;
      const item = list[index];
      if (item === undefined) return;
      await run(item, index);
    }
  };
  await Promise.all(Array.from({ length: atOnce }, worker));
}

function quantile(values: readonly number[], q: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * q))] ?? 0;
}

const round = (n: number) => Math.round(n * 10) / 10;

function residentMb(pid: number): number {
  const line = /VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1];
  return Math.round(Number(line ?? 0) / 1024);
}

export async function main(words: readonly string[]): Promise<number> {
  const value = (name: string, otherwise: string) => {
    const at = words.indexOf(`--${name}`);
    return at < 0 ? otherwise : (words[at + 1] ?? otherwise);
  };
  const counts = value('devices', '10,100,1000').split(',').map(Number);
  const walks = Number(value('walks', '3'));
  const results: SchoolBench[] = [];
  const say = (result: SchoolBench) => {
    results.push(result);
    if (words.includes('--json')) console.log(JSON.stringify(result));
    else console.error(`${result.store}, ${result.devices} devices: done`);
  };
  for (const devices of counts) say(await benchSchool({}, devices, walks));
  for (const devices of counts) {
    const postgres = await startPostgres();
    if (typeof postgres === 'string') {
      console.error(`PostgreSQL was not measured. ${postgres}`);
      break;
    }
    try {
      say(await benchSchool({ url: postgres.url }, devices, walks));
    } finally {
      postgres.stop();
    }
  }
  if (!words.includes('--json')) console.table(results);
  return 0;
}
