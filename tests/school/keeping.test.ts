import { createServer } from 'node:http';
import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { eraseExpired, newsFrom, openDatabase, schoolHandler, type Database } from '#school';
import { sha256Hex } from '#store/pure';
import { keepGoing, readNews, SchoolAway, SchoolSaidNo, type SyncState } from '#sync';
import { backUp, restore } from '../../src/school/backup.ts';
import { lockFolder } from '../../src/school/lock.ts';
import { askBackup, startControl } from '../../src/school/control.ts';
import { PEOPLE_LISTS } from '../../src/school/tables-people.ts';
import { CATALOGUE } from '../speak/fixture.ts';
import { Authenticator } from './authenticator.ts';
import { AIRCRAFT, memoryBlobs, opened, schoolStage, STARTING, type Stage } from './stage.ts';

let stage: Stage;
const folder = mkdtempSync(join(tmpdir(), 'talkround-keeping-'));
beforeAll(async () => {
  stage = await schoolStage();
}, STARTING);
afterAll(async () => {
  await stage.close();
  rmSync(folder, { recursive: true, force: true });
});

test(
  '19: a backup is made while phones bring more, and restores into an empty school, word for word and with its sound',
  async () => {
    const phone = await stage.joined('A. Alder', ['pilot']);
    await phone.walk({ sound: Uint8Array.from([1, 2, 3, 4]), squawk: 'nick in the blade' });
    await phone.sync();
    const control = await startControl(folder, { parts: stage.parts });
    const file = join(folder, 'school.zip');
    const [lines] = await Promise.all([
      askBackup(folder, file),
      phone.walk().then(() => phone.sync()),
    ]);
    expect(lines?.[0]).toContain('Backed up');
    expect(statSync(file).mode & 0o077).toBe(0);
    await control.close();
    expect(await askBackup(folder, file)).toBeNull();

    const empty = await openDatabase('memory');
    const blobs = memoryBlobs();
    try {
      expect((await restore(empty, blobs, file))[0]).toContain('all verified');
      const before = await stage.database.sql
        .selectFrom('event')
        .selectAll()
        .orderBy('seq')
        .execute();
      const after = await empty.sql.selectFrom('event').selectAll().orderBy('seq').execute();
      expect(after).toEqual(before.slice(0, after.length));
      expect(after.length).toBeGreaterThan(5);
      expect([...blobs.all.values()]).toEqual([Uint8Array.from([1, 2, 3, 4])]);
      // Not over a school that is there.
      await expect(restore(empty, blobs, file)).rejects.toThrow('There is a school here already');
    } finally {
      await empty.close();
    }
  },
  STARTING,
);

/** The rows of every list that is kept beside the log, in an order of their own. */
async function listsOf(database: Database): Promise<Readonly<Record<string, readonly string[]>>> {
  const all = [...PEOPLE_LISTS, 'sound', 'picture_shown', 'picture_squawk', 'device'] as const;
  const found: Record<string, readonly string[]> = {};
  for (const list of all) {
    const rows: readonly object[] = await database.sql.selectFrom(list).selectAll().execute();
    found[list] = rows.map((row) => JSON.stringify(row)).sort();
  }
  return found;
}

test(
  '19: a school with passkeys, a list of aircraft, what was learned and pictures is restored whole, and goes on as it was',
  async () => {
    // Passkeys hold for a name; where that name leads to is changed below.
    let at = stage.base.replace('127.0.0.1', 'localhost');
    const moving: typeof fetch = (url, init) => fetch(String(url).replace(stage.base, at), init);
    const hazel = await stage.person('H. Hazel', ['pilot']);
    const deviceOf = async (name: string) => {
      const device = await stage.device(name, { fetch: moving });
      await device.join(await stage.code(hazel));
      return device;
    };
    const chief = await stage.joined('H. Chief', ['chief']);
    await chief.in().giveEdition(JSON.stringify(CATALOGUE), true);
    await chief.in().addAircraft('Rowan 1', CATALOGUE.id);
    const [listed] = (await chief.in().hello([])).aircraft;
    await chief.in().changeAircraft(listed?.id ?? '', { name: 'Rowan 2' });

    const phone = await deviceOf('H. Hazel');
    const second = await deviceOf('H. second');
    const walk = await phone.walk({ open: true });
    const picture = Uint8Array.from([0xff, 0xd8, 0xff, 4, 2]);
    await phone.store.keepPicture({
      walk,
      aircraft: AIRCRAFT,
      t: null,
      picture: 'picture-kept',
      of: { kind: 'finding', statement: 's-1' },
      mime: 'image/jpeg',
      width: 3,
      height: 2,
      data: Uint8Array.from(picture).buffer,
    });
    const squawk = opened('squawk-kept', 'crack in the left skid tube');
    if (squawk.kind === 'squawk' && squawk.step.step === 'opened')
      await phone.write({ ...squawk, step: { ...squawk.step, statement: 's-1' } }, { walk });
    const means = { is: 'check', check: 'drive-belts' } as const;
    const taught = { id: 'learned-kept', phrase: 'the rubber bits', means, speaker: 'H. Hazel' };
    const learned = { ...taught, from: 's-1', told: 'the rubber bits are the drive belts' };
    await phone.write({ kind: 'learned', learned });
    await phone.sync();

    const desk = await stage.device('Desk', { fetch: moving });
    const { code } = await desk.api.askIn(stage.school, await desk.store.publicKey(), desk.name);
    await phone.in().letDeskIn(code);
    desk.use(stage.school);
    const key = new Authenticator(new URL(at).origin);
    await desk.in().addPasskey('My key', key.make(await desk.in().askToAddPasskey()));

    const file = join(folder, 'whole.zip');
    await backUp(stage.database, stage.blobs, file, 0);
    const database = await openDatabase('memory');
    const blobs = memoryBlobs();
    await restore(database, blobs, file);
    const before = await listsOf(stage.database);
    for (const list of Object.keys(before)) expect(before[list], list).not.toEqual([]);
    expect(await listsOf(database)).toEqual(before);

    const answers = schoolHandler({
      ...stage.parts,
      database,
      blobs,
      news: await newsFrom(database),
    });
    const server = createServer((request, response) => void answers(request, response));
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    try {
      const address = server.address();
      at = `http://localhost:${typeof address === 'object' ? address?.port : ''}/school/`;
      await second.sync();
      expect((await second.in().hello([])).aircraft).toMatchObject([
        { name: 'Rowan 2', was: ['Rowan 1'], catalogue: CATALOGUE.id },
      ]);
      expect(JSON.stringify(await second.in().phrases(null))).toContain('the rubber bits');
      expect(await second.in().picture(sha256Hex(picture))).toEqual(picture);
      const other = await stage.device('Another desk', { fetch: moving });
      const publicKey = await other.store.publicKey();
      const wish = await other.api.askToSignIn(stage.school, publicKey, other.name);
      const answer = key.use(wish, { origin: new URL(at).origin });
      const signed = await other.api.signIn(stage.school, publicKey, other.name, answer);
      expect(signed.name).toBe('H. Hazel');
    } finally {
      server.closeAllConnections();
      await new Promise((resolve) => server.close(resolve));
      await database.close();
    }
  },
  STARTING,
);

test(
  '19: a backup that was changed is not restored, and says which event or file',
  async () => {
    const file = join(folder, 'changed.zip');
    await backUp(stage.database, stage.blobs, file, 0);
    const bytes = readFileSync(file);
    const at = bytes.indexOf('drive belts good');
    expect(at).toBeGreaterThan(0);
    bytes.write('drive belts gone', at);
    writeFileSync(file, bytes);
    const empty = await openDatabase('memory');
    try {
      await expect(restore(empty, memoryBlobs(), file)).rejects.toThrow(
        'events.jsonl in this backup was changed',
      );
      expect(await empty.sql.selectFrom('school').select('id').execute()).toEqual([]);
    } finally {
      await empty.close();
    }
  },
  STARTING,
);

test('19: only who may read the folder asks the running server for a backup', async () => {
  const control = await startControl(folder, { parts: stage.parts });
  const note = JSON.parse(readFileSync(join(folder, 'control.json'), 'utf8')) as { port: number };
  expect(statSync(join(folder, 'control.json')).mode & 0o077).toBe(0);
  const response = await fetch(`http://127.0.0.1:${note.port}/backup?file=/tmp/stolen.zip`, {
    headers: { 'x-talkround-control': 'guess' },
  });
  expect(response.status).toBe(403);
  await control.close();
});

test('19: sound older than the terms say is erased, on the server and by the log on every device', async () => {
  const phone = await stage.joined('B. Birch', ['pilot']);
  const walk = await phone.walk({ sound: Uint8Array.from([9, 9, 9]) });
  await phone.sync();
  expect(await eraseExpired(stage.database, stage.parts.clock)).toEqual([]);
  stage.turn(366 * 86_400_000);
  const done = await eraseExpired(stage.database, stage.parts.clock);
  stage.turn(-366 * 86_400_000);
  expect(done[0]?.drop).toContain(sha256Hex(Uint8Array.from([9, 9, 9])));
  await phone.sync();
  const kept = await phone.store.sound(`recording-${walk}`);
  expect(kept.chunks).toEqual([]);
  expect(kept.erased).toContain('365 days');
});

test('19: a person whose voice is not kept, and a school that keeps none: the words go up and no sound', async () => {
  const chief = await stage.joined('C. Cedar', ['chief']);
  const quiet = await stage.joined('D. Dogwood', ['pilot']);
  await chief.in().changePerson(quiet.person ?? '', { voice: false });
  await quiet.walk({ sound: Uint8Array.from([3, 1, 4]) });
  await quiet.sync();
  expect(stage.blobs.all.has(sha256Hex(Uint8Array.from([3, 1, 4])))).toBe(false);
  const { terms } = await chief.in().hello([]);
  await chief.in().setTerms({ ...terms, sound: false });
  const other = await stage.joined('E. Elm', ['pilot']);
  await other.walk({ sound: Uint8Array.from([2, 7, 1]) });
  await other.sync();
  expect(stage.blobs.all.has(sha256Hex(Uint8Array.from([2, 7, 1])))).toBe(false);
  expect((await other.in().hello([])).head).toBe(await other.store.ownHead());
  await chief.in().setTerms(terms);
});

test('19: news reach a desk as they come, over server-sent events', async () => {
  const desk = await stage.joined('F. Fir', ['instructor']);
  const phone = await stage.joined('G. Gorse', ['pilot']);
  const stop = new AbortController();
  const response = await desk.in().live(stop.signal);
  expect(response.headers.get('content-type')).toContain('text/event-stream');
  let news = 0;
  const reading = readNews(response.body ?? new ReadableStream(), () => (news += 1)).catch(
    () => undefined,
  );
  await phone.walk();
  await phone.sync();
  await vi.waitFor(() => expect(news).toBeGreaterThan(0), { timeout: 5_000 });
  stop.abort();
  await reading;
});

test('19: /health says that the database answers', async () => {
  const response = await fetch(stage.base.replace('/school/', '/health'));
  expect(await response.json()).toEqual({ ok: true, store: 'pglite', sound: 'kept' });
});

/** Rounds by a clock that is turned by hand. */
function turned(round: () => Promise<void>) {
  const states: SyncState[] = [];
  const waits: { ms: number; then: () => void; off: boolean }[] = [];
  const going = keepGoing({
    round,
    onState: (state) => states.push(state),
    wait(ms, then) {
      const one = { ms, then, off: false };
      waits.push(one);
      return () => (one.off = true);
    },
    chance: () => 1,
  });
  return { going, states, waits, last: () => waits.findLast((w) => !w.off) };
}

test('19: a school that is away is asked again with growing patience, at most every two minutes; nothing asks in between', async () => {
  const { going, states, last } = turned(() => Promise.reject(new SchoolAway('gone')));
  const patience: number[] = [];
  for (let i = 0; i < 10; i += 1) {
    await going.now();
    patience.push(last()?.ms ?? 0);
    going.soon();
    expect(last()?.ms).toBe(patience.at(-1));
  }
  expect(patience.slice(0, 4)).toEqual([1_000, 2_000, 4_000, 8_000]);
  expect(Math.max(...patience)).toBe(120_000);
  expect(states.at(-1)).toMatchObject({ state: 'away', retries: 10 });
});

test('19: a device that is shut out stops asking, until somebody asks by hand', async () => {
  let out = true;
  const { going, states, waits } = turned(async () => {
    if (out)
      throw new SchoolSaidNo(403, 'This device was shut out of the school. Ask at the desk.');
  });
  await going.now();
  going.soon();
  expect(waits.filter((w) => !w.off)).toEqual([]);
  expect(states.at(-1)).toMatchObject({ state: 'out' });
  out = false;
  await going.now();
  expect(states.at(-1)).toEqual({ state: 'resting' });
});

test('19: a folder has one owner; what a killed one left is taken over', () => {
  const own = join(folder, 'locked');
  const release = lockFolder(own);
  release();
  // Process 1 is always there, and never ours.
  writeFileSync(join(own, 'owner'), '1');
  expect(() => lockFolder(own)).toThrow('open in another process (1)');
  // No process has this number.
  writeFileSync(join(own, 'owner'), '4194305');
  lockFolder(own)();
});
