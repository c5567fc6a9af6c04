import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chiefsCode, openDatabase, realClock, type Database } from '#school';
import { chain, linkOf } from '#store/pure';
import { invite } from '../../src/school/joining.ts';
import { addPerson, changePerson } from '../../src/school/people.ts';
import { draft, makeDevice, opened, rectified, type Device } from '../school/stage.ts';
import { badNetwork, type Network } from './network.ts';
import { seeded } from './random.ts';
import { schoolServer, type SchoolServer } from './school-server.ts';

/**
 * Devices of a school on a bad day, in one process, over real HTTP: the network
 * cut, requests doubled and late, the server killed, clocks off by hours, and two
 * thieves. What was decided is seeded; when it happens is up to the machine.
 *
 *   npm run ordeal:school -- [--seconds 180] [--devices 20] [--seed 1] [--url postgres://…] [--json]
 */
export interface SchoolResult {
  readonly devices: number;
  /** Events that honest devices wrote. */
  readonly events: number;
  /** Of these, those that the school has not got or has aside. */
  readonly lost: number;
  readonly duplicated: number;
  /** Events that count and that no honest device wrote. */
  readonly intruders: number;
  /** Everybody has everything that is theirs to see, and one more round brings nothing. */
  readonly converged: boolean;
  readonly kills: number;
  readonly requests: number;
  readonly cut: number;
  readonly doubled: number;
  /** Attempts of the two thieves, and how many were answered with success. */
  readonly thefts: number;
  readonly store: Database['kind'];
  readonly seed: number;
  readonly seconds: number;
}

/** A member of the cast. */
interface Member {
  readonly device: Device;
  readonly person: string | null;
  readonly role: 'pilot' | 'instructor' | 'maintenance';
  readonly teacher: string | null;
}

const HOUR = 3_600_000;

export async function schoolOrdeal(options: {
  readonly seconds: number;
  readonly devices: number;
  readonly seed: number;
  readonly url?: string | undefined;
  readonly progress?: (line: string) => void;
}): Promise<SchoolResult> {
  const { seconds, devices, seed, url, progress = () => undefined } = options;
  const random = seeded(seed);
  const folder = mkdtempSync(join(tmpdir(), 'talkround-school-'));
  const where = url === undefined ? { folder: join(folder, 'database') } : { url };
  const network = badNetwork(seeded(seed + 1));
  let server: SchoolServer | null = null;
  try {
    const { base, cast, school } = await found(
      where,
      folder,
      devices,
      random,
      network,
      async () => {
        server = await schoolServer({ folder, url, rate: 100_000 });
        return server;
      },
    );
    const until = Date.now() + seconds * 1000;
    let kills = 0;
    let over = false;
    const life = Promise.all(
      cast.map((member) => live(member, cast, seeded(Math.floor(random() * 2 ** 31)), () => over)),
    );
    const steal = thieves(base, cast, network, seeded(seed + 2), () => over);
    network.bad(true);
    while (Date.now() < until) {
      await pause(4_000 + random() * 12_000);
      if (Date.now() >= until) break;
      await (server as SchoolServer | null)?.kill();
      kills += 1;
      await pause(random() * 3_000);
      await (server as SchoolServer | null)?.start();
      progress(`${Math.round((until - Date.now()) / 1000)} s left, ${kills} kills`);
    }
    over = true;
    await life;
    const thefts = await steal;
    network.bad(false);
    // Everybody comes home: what is up comes down.
    for (let round = 0; round < 2; round += 1) for (const { device } of cast) await device.sync();
    await (server as SchoolServer | null)?.kill();
    const database = await openDatabase(where);
    try {
      const judged = await judge(database, school, cast);
      if (judged.why.length > 0) progress(judged.why.slice(0, 10).join('\n'));
      const { events, lost, duplicated, intruders, converged } = judged;
      return {
        devices: cast.length,
        events,
        lost,
        duplicated,
        intruders,
        converged,
        kills,
        requests: network.requests(),
        cut: network.cut(),
        doubled: network.doubled(),
        thefts,
        store: database.kind,
        seed,
        seconds,
      };
    } finally {
      await database.close();
    }
  } finally {
    await (server as SchoolServer | null)?.kill();
    rmSync(folder, { recursive: true, force: true });
  }
}

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

/** The school is founded before its server starts: the embedded database has one owner at a time. */
async function found(
  where: { folder: string } | { url: string },
  folder: string,
  devices: number,
  random: () => number,
  network: Network,
  start: () => Promise<SchoolServer>,
) {
  const first = await openSchoolAt(where, folder);
  const { school } = first;
  const database = await openDatabase(where);
  const codes: {
    name: string;
    person: string | null;
    code: string;
    role: Member['role'];
    teacher: string | null;
  }[] = [];
  const instructors: string[] = [];
  const students = new Map<string, string[]>();
  try {
    for (let i = 0; i < devices; i += 1) {
      const role = i < 2 ? 'instructor' : i === 2 ? 'maintenance' : 'pilot';
      const name = `Person ${i}`;
      // Every fifth phone is shared by the pilots.
      const shared = role === 'pilot' && i % 5 === 0;
      const person = shared
        ? null
        : await addPerson(database, realClock, school, { name, roles: [role] });
      const teacher = role === 'pilot' && person !== null ? (instructors[i % 2] ?? null) : null;
      if (role === 'instructor' && person !== null) instructors.push(person);
      if (teacher !== null && person !== null)
        students.set(teacher, [...(students.get(teacher) ?? []), person]);
      const { code } = await invite(database, realClock, school, 'ordeal', person);
      codes.push({ name, person, code, role, teacher });
    }
    for (const [teacher, mine] of students)
      await changePerson(database, realClock, school, teacher, { students: mine });
  } finally {
    await database.close();
  }
  const server = await start();
  const base = `http://127.0.0.1:${server.port}/school/`;
  const cast: Member[] = [];
  for (const { name, person, code, role, teacher } of codes) {
    const off = Math.round((random() - 0.5) * 20 * HOUR);
    const device = await makeDevice(base, name, { off, fetch: network.fetch });
    await device.join(code);
    cast.push({ device, person, role, teacher });
  }
  return { base, cast, school };
}

async function openSchoolAt(where: { folder: string } | { url: string }, folder: string) {
  const { openSchool } = await import('../../src/school/main.ts');
  const opened = await openSchool({
    folder,
    ...('url' in where ? { surroundings: { DATABASE_URL: where.url } } : {}),
    log: () => undefined,
  });
  await chiefsCode(opened.parts.database, realClock, opened.school);
  await opened.close();
  return opened;
}

/** A day in the life of one device: walks, squawks, reviews, answers, and now and then a round with the school. */
async function live(
  { device, role, person }: Member,
  cast: readonly Member[],
  random: () => number,
  over: () => boolean,
): Promise<void> {
  let n = 0;
  while (!over()) {
    n += 1;
    const dice = random();
    if (role === 'maintenance') {
      if (dice < 0.5) await answerOne(device, random);
    } else if (role === 'instructor' && dice < 0.3) await reviewOne(device, person, cast);
    else if (dice < 0.6)
      await device.walk({
        words: Array.from(
          { length: 1 + Math.floor(random() * 5) },
          (_, i) => `item ${n}.${i} good`,
        ),
        open: random() < 0.2,
        ...(random() < 0.3 ? { squawk: `squawk ${n} of ${device.name}` } : {}),
        ...(random() < 0.2
          ? { sound: Uint8Array.from({ length: 400 }, () => random() * 256) }
          : {}),
      });
    else if (dice < 0.75) await device.write(opened(`quick-${device.store.device}-${n}`, 'quick'));
    await device.sync().catch(() => undefined);
    await pause(200 + random() * 1_500);
  }
}

async function answerOne(device: Device, random: () => number): Promise<void> {
  const steps = await device.store.squawkEvents();
  const done = new Set(
    steps.flatMap((e) =>
      e.what.kind === 'squawk' && e.what.step.step === 'rectified' ? [e.what.squawk] : [],
    ),
  );
  const open = steps.flatMap((e) =>
    e.what.kind === 'squawk' && !done.has(e.what.squawk) ? [e.what.squawk] : [],
  );
  const one = open[Math.floor(random() * open.length)];
  if (one !== undefined) await device.write(rectified(one));
}

async function reviewOne(
  device: Device,
  person: string | null,
  cast: readonly Member[],
): Promise<void> {
  const students = new Set(
    cast.filter((m) => m.teacher === person).map((m) => m.device.store.device),
  );
  const walk = (await device.store.all()).findLast(
    (e) => e.what.kind === 'signed' && students.has(e.device),
  )?.walk;
  if (walk !== null && walk !== undefined)
    await device.write(
      {
        kind: 'reviewed',
        by: device.name,
        note: 'seen',
        of: { kind: 'standing', check: 'drive-belts', standing: 'spoken' },
      },
      { walk },
    );
}

/**
 * One thief has what went over the wire and sends it again, elsewhere and with
 * another body. The other has a phone that is in, and brings events in other
 * people's names, changed ones, and other versions of what others wrote.
 *
 * @returns how many attempts were made
 */
async function thieves(
  base: string,
  cast: readonly Member[],
  network: Network,
  random: () => number,
  over: () => boolean,
): Promise<number> {
  let tries = 0;
  const insider = cast.at(-1)?.device;
  while (!over()) {
    await pause(100);
    const stolen = network.stolen(random);
    if (stolen !== null) {
      const forged = JSON.stringify({
        id: 'x',
        device: 'x',
        what: { kind: 'finished' },
        hash: 'x',
      });
      const ways: [string, RequestInit][] = [
        [stolen.url, stolen.init],
        [`${base}feed`, { headers: stolen.init.headers ?? {} }],
        [`${base}events`, { method: 'POST', headers: stolen.init.headers ?? {}, body: forged }],
      ];
      const way = ways[Math.floor(random() * ways.length)];
      tries += 1;
      if (way !== undefined) await fetch(...way).catch(() => undefined);
    }
    const victim = cast[Math.floor(random() * cast.length)]?.device;
    if (insider === undefined || victim === undefined || victim === insider) continue;
    const log = await victim.store.ownLog(null);
    const line = log[Math.floor(random() * log.length)];
    if (line === undefined) continue;
    const link = linkOf(JSON.parse(line));
    const [fork] = chain(
      [draft(victim.world, { kind: 'finished', open: [], how: 'said' }, link?.walk ?? null)],
      victim.store.device,
      link?.prev ?? null,
    );
    const changed = line.replace('good', 'bad!');
    tries += 1;
    const lines = [changed, ...(fork === undefined ? [] : [fork.text])];
    // In another's name with one's own signature.
    await insider
      .in()
      .events(lines)
      .catch(() => undefined);
  }
  return tries;
}

async function judge(database: Database, school: string, cast: readonly Member[]) {
  const rows = await database.sql
    .selectFrom('event')
    .where('school', '=', school)
    .select(['hash', 'id', 'device', 'kind', 'walk', 'aside', 'text'])
    .execute();
  const why: string[] = [];
  const counted = new Map(rows.filter((r) => r.aside === null).map((r) => [r.hash, r]));
  const written = new Set<string>();
  let lost = 0;
  let converged = true;
  for (const { device } of cast) {
    const log = await device.store.ownLog(null);
    for (const line of log) {
      const hash = linkOf(JSON.parse(line))?.hash ?? '';
      written.add(hash);
      const there = counted.get(hash);
      if (there?.text === line) continue;
      lost += 1;
      why.push(
        `${device.name}: lost ${line.slice(0, 200)}: ${rows.find((r) => r.hash === hash)?.aside ?? 'not there'}`,
      );
    }
    if (device.progress().told.length > 0)
      why.push(`${device.name}: ${JSON.stringify(device.progress().told.slice(0, 2))}`);
  }
  const intruders = [...counted.keys()].filter((hash) => !written.has(hash)).length;
  const squawks = [...counted.values()]
    .filter((r) => r.kind === 'squawk')
    .map((r) => r.hash)
    .sort();
  for (const { device, role, person } of cast) {
    const has = [...new Set((await device.store.squawkEvents()).map((e) => e.hash))].sort();
    if (has.join() !== squawks.join()) {
      converged = false;
      why.push(`${device.name}: ${has.length} of ${squawks.length} steps of squawks`);
    }
    if (!(await device.store.verify()).ok) {
      converged = false;
      why.push(`${device.name}: its record does not verify`);
    }
    if (role !== 'instructor') continue;
    const students = new Set(
      cast.filter((m) => m.teacher === person).map((m) => m.device.store.device),
    );
    const theirs = new Set((await device.store.all()).map((e) => e.hash));
    for (const row of counted.values())
      if (row.walk !== null && students.has(row.device) && !theirs.has(row.hash)) {
        converged = false;
        why.push(`${device.name}: lacks ${row.kind} of its student`);
      }
  }
  const duplicated = rows.length - new Set(rows.map((r) => r.hash)).size;
  return { events: written.size, lost, duplicated, intruders, converged, why };
}

export async function main(words: readonly string[]): Promise<number> {
  const value = (name: string, otherwise: number) => {
    const at = words.indexOf(`--${name}`);
    return at < 0 ? otherwise : Number(words[at + 1]);
  };
  const at = words.indexOf('--url');
  const result = await schoolOrdeal({
    seconds: value('seconds', 180),
    devices: value('devices', 20),
    seed: value('seed', 1),
    url: at < 0 ? undefined : words[at + 1],
    progress: (line) => console.error(line),
  });
  if (words.includes('--json')) console.log(JSON.stringify(result));
  else
    for (const [name, of] of Object.entries(result))
      console.log(`${name.padEnd(12)} ${String(of)}`);
  const { lost, duplicated, intruders, converged } = result;
  return lost === 0 && duplicated === 0 && intruders === 0 && converged ? 0 : 1;
}
