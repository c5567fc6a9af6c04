import { createServer, type Server } from 'node:http';
import { randomBytes } from 'node:crypto';
import type { AddressInfo } from 'node:net';
import type { Draft, Happening } from '#shared/event';
import type { World } from '#shared/log';
import type { Role } from '#shared/school';
import {
  foundSchool,
  newsFrom,
  openDatabase,
  realClock,
  schoolHandler,
  type Blobs,
  type Clock,
  type Database,
  type LogLine,
  type Parts,
} from '#school';
import { editionOf } from '#catalogue';
import { memoryStore, type Store } from '#store';
import { sha256Hex } from '#store/pure';
import { schoolApi, syncRound, type ApiParts, type Progress, type SyncStore } from '#sync';
import type { Catalogue } from '#shared/catalogue';
import { CATALOGUE } from '../speak/fixture.ts';
import { invite } from '../../src/school/joining.ts';
import { bytesFor } from '../../src/wire/school-bytes.ts';
import { addPerson } from '../../src/school/people.ts';
import { uuid7 } from '../store/help.ts';
import { heard } from '../store/words.ts';

export const EDITION = editionOf(CATALOGUE);
export const AIRCRAFT = 'R-102';
/** Milliseconds that a database may take to be made on a busy machine. */
export const STARTING = 60_000;

/** Sound in memory. */
export function memoryBlobs(): Blobs & { readonly all: Map<string, Uint8Array> } {
  const all = new Map<string, Uint8Array>();
  return {
    all,
    put: async (_school, hash, bytes) => void all.set(hash, Uint8Array.from(bytes)),
    get: async (_school, hash) => all.get(hash) ?? null,
    remove: async (_school, hash) => void all.delete(hash),
    check: async () => undefined,
  };
}

export interface Stage {
  readonly database: Database;
  readonly parts: Parts;
  readonly blobs: ReturnType<typeof memoryBlobs>;
  readonly school: string;
  readonly base: string;
  readonly lines: readonly LogLine[];
  /** Adds to the server's clock, milliseconds. */
  turn(ms: number): void;
  person(name: string, roles: readonly Role[]): Promise<string>;
  code(person: string | null): Promise<string>;
  device(name: string, options?: DeviceOptions): Promise<Device>;
  /** A device that is in, as somebody. */
  joined(
    name: string,
    roles: readonly Role[] | null,
  ): Promise<Device & { readonly person: string | null }>;
  close(): Promise<void>;
}

/** Where the tests of a school keep it: the embedded database unless told otherwise. */
export function whereToKeep(): Parameters<typeof openDatabase>[0] {
  const url = process.env['SCHOOL_TEST_URL'];
  return url === undefined ? 'memory' : { url };
}

export async function schoolStage(
  options: {
    readonly rate?: number;
    readonly guesses?: number;
    readonly name?: string;
    /** Where sound and pictures lie; left out: in memory. */
    readonly blobs?: Blobs;
  } = {},
): Promise<Stage> {
  const database = await openDatabase(whereToKeep());
  let turned = 0;
  const clock: Clock = { ...realClock, now: () => Date.now() + turned };
  const lines: LogLine[] = [];
  const blobs = memoryBlobs();
  const school = await foundSchool(
    database,
    clock,
    options.name ?? 'Test school',
    `Chief ${clock.id()}`,
  );
  const parts: Parts = {
    database,
    blobs: options.blobs ?? blobs,
    clock,
    news: await newsFrom(database),
    log: (line) => lines.push(line),
    rate: options.rate ?? 10_000,
    guesses: options.guesses ?? 10_000,
  };
  const server = await listening(schoolHandler(parts));
  const base = `http://127.0.0.1:${(server.address() as AddressInfo).port}/school/`;
  const stage: Stage = {
    database,
    parts,
    blobs,
    school,
    base,
    lines,
    turn: (ms) => (turned += ms),
    person: (name, roles) => addPerson(database, clock, school, { name, roles }),
    code: async (person) => (await invite(database, clock, school, 'test', person)).code,
    device: (name, more) => makeDevice(base, name, more),
    async joined(name, roles) {
      const person = roles === null ? null : await stage.person(name, roles);
      const device = await stage.device(name);
      await device.join(await stage.code(person));
      return { ...device, person };
    },
    async close() {
      server.closeAllConnections();
      await new Promise((resolve) => server.close(resolve));
      await database.close();
    },
  };
  return stage;
}

function listening(answer: ReturnType<typeof schoolHandler>): Promise<Server> {
  return new Promise((resolve) => {
    const server = createServer((request, response) => {
      if (!answer(request, response)) response.writeHead(404).end('Not found.');
    });
    server.listen(0, '127.0.0.1', () => resolve(server));
  });
}

export interface DeviceOptions {
  /** Its clock is off by so much, milliseconds. */
  readonly off?: number;
  readonly fetch?: typeof fetch;
}

export interface Device {
  readonly name: string;
  readonly store: Store;
  readonly world: World;
  readonly api: ReturnType<typeof schoolApi>;
  in(): ReturnType<ReturnType<typeof schoolApi>['in']>;
  join(code: string): Promise<void>;
  use(school: string): void;
  sync(): Promise<Progress>;
  /** What was kept of the last round. */
  progress(): Progress;
  walk(options?: WalkOptions): Promise<string>;
  write(what: Happening, of?: { walk?: string | null; aircraft?: string }): Promise<void>;
}

export interface WalkOptions {
  readonly pilot?: string | null;
  readonly instructor?: string | null;
  readonly words?: readonly string[];
  readonly squawk?: string;
  readonly sound?: Uint8Array;
  /** Left open: neither finished nor signed. */
  readonly open?: boolean;
}

let made = 0;

export async function makeDevice(
  base: string,
  name: string,
  options: DeviceOptions = {},
): Promise<Device> {
  made += 1;
  const number = made;
  let n = 0;
  const world: World = {
    id: () => uuid7(Date.now() + (options.off ?? 0), number * 10_000_000 + (n += 1)),
    now: () => Date.now() + (options.off ?? 0),
    steady: () => (n += 1),
  };
  const store = await memoryStore(world);
  await store.keepCatalogue(EDITION, CATALOGUE);
  const parts: ApiParts = {
    base,
    device: store.device,
    fetch: options.fetch ?? fetch,
    now: () => world.now(),
    nonce: () => randomBytes(16).toString('base64url'),
    sha256: sha256Hex,
    prove: (proof) => store.prove(proof),
  };
  const api = schoolApi(parts);
  const ways = syncStoreOf(store);
  let school = '';
  let progress: Progress = { cursor: null, told: [] };
  const device: Device = {
    name,
    store,
    world,
    api,
    in: () => api.in(school),
    use: (id) => (school = id),
    async join(code) {
      const publicKey = await store.publicKey();
      const invited = await api.invited(code, publicKey);
      const { terms } = invited;
      ({ school } = await api.join({ code, device: store.device, publicKey, name, terms }));
    },
    async sync() {
      progress = await syncRound(ways, api.in(school), progress, {
        busy: async () => false,
        onHello: async () => undefined,
        onProgress: async (p) => void (progress = p),
        onPictures: async () => undefined,
      });
      return progress;
    },
    progress: () => progress,
    walk: (walk = {}) => walkOf(device, walk),
    async write(what, of = {}) {
      await store.append([draft(world, what, of.walk ?? null, of.aircraft ?? AIRCRAFT)]);
    },
  };
  return device;
}

/** The record as a round needs it; as `src/wire/school.ts` has it. */
export function syncStoreOf(store: Store): SyncStore {
  return {
    ownHead: () => store.ownHead(),
    ownLog: (after) => store.ownLog(after),
    merge: (events) => store.merge(events),
    takeLoose: (texts) => store.takeLoose(texts),
    editions: () => store.editions(),
    catalogue: (edition) => store.catalogue(edition),
    keepEdition: (edition, catalogue) => store.keepCatalogue(edition, catalogue as Catalogue),
    ...bytesFor(store),
  };
}

export function draft(
  world: World,
  what: Happening,
  walk: string | null,
  aircraft = AIRCRAFT,
): Draft {
  return {
    v: 1,
    id: world.id(),
    walk,
    aircraft,
    at: world.now(),
    t: walk === null ? null : 1,
    what,
  };
}

export function fault(words: string) {
  return {
    words,
    check: null,
    part: null,
    side: null,
    position: null,
    conditions: [],
    value: null,
    severity: null,
  };
}

export function opened(squawk: string, words: string): Happening {
  return {
    kind: 'squawk',
    squawk,
    step: {
      step: 'opened',
      aircraft: AIRCRAFT,
      fault: fault(words),
      statement: null,
      heard: null,
      sound: null,
      reporter: null,
      found: 'pre-flight walk',
      hours: null,
      legacy: false,
    },
  };
}

export function rectified(squawk: string): Happening {
  return {
    kind: 'squawk',
    squawk,
    step: {
      step: 'rectified',
      by: 'M. Wrench',
      certificate: '12',
      certificateKind: 'A&P',
      reference: 'work order 7',
      date: '2026-01-05',
    },
  };
}

async function walkOf(device: Device, options: WalkOptions): Promise<string> {
  const { store, world } = device;
  const walk = world.id();
  const say = (what: Happening) => store.append([draft(world, what, walk)]);
  await say({
    kind: 'walk-begun',
    aircraft: AIRCRAFT,
    catalogue: CATALOGUE.id,
    edition: EDITION,
    circumstances: [],
    pilot: options.pilot === undefined ? device.name : options.pilot,
    instructor: options.instructor ?? null,
    hours: null,
    listening: 'typed',
    squawks: [],
  });
  await say({ kind: 'station-set', station: CATALOGUE.stations[0]?.id ?? '' });
  for (const text of options.words ?? ['drive belts good'])
    await say({
      kind: 'heard',
      heard: heard(world.id(), text),
    });
  if (options.sound !== undefined)
    await store.keepSound({
      walk,
      aircraft: AIRCRAFT,
      t: 1,
      recording: `recording-${walk}`,
      chunk: 0,
      place: { recording: `recording-${walk}`, from: 0, to: 2 },
      mime: 'audio/wav',
      data: Uint8Array.from(options.sound).buffer,
    });
  if (options.squawk !== undefined) await say(opened(`squawk-${walk}`, options.squawk));
  if (options.open !== true) {
    await say({ kind: 'finished', open: [], how: 'touched' });
    await say({ kind: 'signed', name: device.name, certificate: null });
  }
  return walk;
}
