import { afterAll, beforeAll, expect, test } from 'vitest';
import { chain, sha256Hex } from '#store/pure';
import { DESK_LASTS, CODE_LASTS, ASKING_LASTS } from '../../src/school/joining.ts';
import { PROOF_LASTS } from '../../src/school/proof.ts';
import {
  draft,
  opened,
  rectified,
  schoolStage,
  type Device,
  type Stage,
  STARTING,
} from './stage.ts';

let stage: Stage;
let chief: Device & { readonly person: string | null };
beforeAll(async () => {
  stage = await schoolStage();
  chief = await stage.joined('The chief', ['chief']);
}, STARTING);
afterAll(() => stage.close());

/** Sends with a header of our own making. */
async function send(path: string, authorization: string | null, init: RequestInit = {}) {
  const headers = new Headers(authorization === null ? [] : [['authorization', authorization]]);
  const response = await fetch(`${stage.base}${path}`, { ...init, headers });
  return { status: response.status, error: String((await response.json()).error ?? '') };
}

/** Whatever a device sends, as it went over the wire. */
async function spied(name: string) {
  const seen: { url: string; init: RequestInit }[] = [];
  const device = await stage.device(name, {
    fetch: (url, init) => {
      seen.push({ url: String(url), init: init ?? {} });
      return fetch(url, init);
    },
  });
  await device.join(await stage.code(await stage.person(name, ['pilot'])));
  return { device, seen };
}

const rowsOf = (device: Device) =>
  stage.database.sql
    .selectFrom('event')
    .where('school', '=', stage.school)
    .where('device', '=', device.store.device)
    .selectAll()
    .execute();

test('19: without a signature, with nonsense for one, and at a strange address: refused', async () => {
  expect(await send('feed', null)).toMatchObject({ status: 401 });
  expect(await send('feed', 'Bearer abc')).toMatchObject({ status: 401 });
  expect(
    await send(
      'feed',
      `Talkround school="${stage.school}", device="x", at="1", nonce="abcdefgh", body="${'0'.repeat(64)}", signature="${'A'.repeat(86)}"`,
    ),
  ).toMatchObject({ status: 401 });
  const { device, seen } = await spied('Addresses');
  await device.in().walks(null);
  expect(seen.length).toBeGreaterThan(0);
  await expect(device.api.in('no-such-school').walks(null)).rejects.toThrow('does not know');
});

test('19: a stolen request is good for nothing: not again, not elsewhere, not with another body', async () => {
  const { device, seen } = await spied('Robbed');
  await device.walk();
  await device.sync();
  const stolen = seen.find((s) => s.url.includes('/feed'));
  const authorization = new Headers(stolen?.init.headers).get('authorization');
  expect(await send('feed', authorization)).toMatchObject({
    status: 401,
    error: expect.stringContaining('sent before') as string,
  });
  expect(await send('walks', authorization)).toMatchObject({
    status: 401,
    error: expect.stringContaining('does not hold') as string,
  });
  const upload = seen.find((s) => s.url.endsWith('/events'));
  const forUpload = new Headers(upload?.init.headers).get('authorization');
  expect(await send('events', forUpload, { method: 'POST', body: '{}' })).toMatchObject({
    status: 401,
  });
});

test('19: a request that is too old is refused, and so is one of the future', async () => {
  const { device } = await spied('Late');
  await device.in().hello([]);
  for (const turn of [PROOF_LASTS + 5_000, -(PROOF_LASTS + 5_000)]) {
    let header = '';
    const other = await stage.device('Late too', {
      fetch: async (url, init) => {
        header = new Headers(init?.headers).get('authorization') ?? '';
        return fetch(url, { ...init, headers: {} });
      },
    });
    other.use(stage.school);
    await other
      .in()
      .walks(null)
      .catch(() => undefined);
    stage.turn(turn);
    expect(
      (await send('walks', header.replace(/device="[^"]+"/, `device="${device.store.device}"`)))
        .error,
    ).toContain('The time of this request');
    stage.turn(-turn);
  }
});

test('19: another key in the name of a device is refused', async () => {
  const honest = await stage.joined('Honest', ['pilot']);
  const thief = await stage.device('Thief');
  const forged = await stage.device('Thief with a name', {
    fetch: (url, init) => {
      const headers = new Headers(init?.headers);
      headers.set(
        'authorization',
        (headers.get('authorization') ?? '').replace(
          /device="[^"]+"/,
          `device="${honest.store.device}"`,
        ),
      );
      return fetch(url, { ...init, headers });
    },
  });
  forged.use(stage.school);
  await expect(forged.in().walks(null)).rejects.toThrow('does not hold');
  thief.use(stage.school);
  await expect(thief.in().walks(null)).rejects.toThrow('does not know this device');
});

test('19: a code is good once, for ten minutes, and only with the terms that were read', async () => {
  const first = await stage.device('First');
  const code = await stage.code(null);
  await first.join(code);
  const second = await stage.device('Second');
  await expect(second.join(code)).rejects.toThrow('not good');
  const late = await stage.code(null);
  stage.turn(CODE_LASTS + 1_000);
  await expect(second.join(late)).rejects.toThrow('not good');
  stage.turn(-CODE_LASTS - 1_000);
  await expect(second.join('guessed-code')).rejects.toThrow('not good');
  const fresh = await stage.code(null);
  await expect(
    second.api.join({
      code: fresh,
      device: second.store.device,
      publicKey: await second.store.publicKey(),
      name: 'Second',
      terms: { sound: false, days: null, hear: [], phrases: 'own' as const },
    }),
  ).rejects.toThrow('changed what it keeps');
  // A refusal does not use the code up.
  await second.join(fresh);
});

test('19: nobody joins with a key that they do not hold, or in the name of a device that is in', async () => {
  const honest = await stage.joined('Held', ['pilot']);
  const thief = await stage.device('Not held');
  const terms = { sound: true, days: 365, hear: ['instructor' as const], phrases: 'own' as const };
  await expect(
    thief.api.join({
      code: await stage.code(null),
      device: thief.store.device,
      publicKey: await honest.store.publicKey(),
      name: 'x',
      terms,
    }),
  ).rejects.toThrow('does not hold');
  await expect(
    thief.api.join({
      code: await stage.code(null),
      device: honest.store.device,
      publicKey: await thief.store.publicKey(),
      name: 'x',
      terms,
    }),
  ).rejects.toThrow('another device');
});

test('19: a phone that is shut out: its later events do not enter, what it brought before stays, nothing is given to it', async () => {
  const lost = await stage.joined('Lost', ['pilot']);
  await lost.walk();
  await lost.sync();
  const before = await rowsOf(lost);
  await chief.in().shutOut(lost.store.device);
  await lost.walk();
  await expect(lost.sync()).rejects.toThrow('shut out');
  await expect(lost.in().feed(null)).rejects.toThrow('shut out');
  await expect(lost.in().events(await lost.store.ownLog(null))).rejects.toThrow('shut out');
  await expect(lost.in().live(AbortSignal.timeout(5_000))).rejects.toThrow('shut out');
  expect(await rowsOf(lost)).toEqual(before);
});

test('19: who has left the school is out with all their devices', async () => {
  const gone = await stage.joined('Gone', ['pilot']);
  await chief.in().changePerson(gone.person ?? '', { gone: true });
  await expect(gone.sync()).rejects.toThrow('has left the school');
});

test('19: a desk is let in by a phone, as its holder, for a working day, and never by a shared phone', async () => {
  const holder = await stage.joined('Holder', ['instructor']);
  const shared = await stage.joined('Shared phone', null);
  const desk = await stage.device('Desk');
  desk.use(stage.school);
  const ask = async () => desk.api.askIn(stage.school, await desk.store.publicKey(), 'Desk');
  await expect(desk.in().hello([])).rejects.toThrow('does not know');
  const { code } = await ask();
  await expect(shared.in().letDeskIn(code)).rejects.toThrow('shared');
  await expect(holder.in().letDeskIn('00000000')).rejects.toThrow('not good');
  expect((await holder.in().letDeskIn(code)).name).toBe('Desk');
  expect((await desk.in().hello([])).person?.name).toBe('Holder');
  await expect(holder.in().letDeskIn(code)).rejects.toThrow('not good');
  await expect(desk.in().letDeskIn(code)).rejects.toThrow('A desk lets no other desk in');
  stage.turn(DESK_LASTS + 1_000);
  await expect(desk.in().hello([])).rejects.toThrow();
  stage.turn(-DESK_LASTS - 1_000);
  const old = await ask();
  stage.turn(ASKING_LASTS + 1_000);
  await expect(holder.in().letDeskIn(old.code)).rejects.toThrow();
  stage.turn(-ASKING_LASTS - 1_000);
  await desk.in().leaveDesk();
  await expect(desk.in().hello([])).rejects.toThrow('shut out');
  await expect(holder.in().leaveDesk()).rejects.toThrow('is a phone');
});

test('19: what each role may ask for, and may not', async () => {
  const pilot = await stage.joined('Only pilot', ['pilot']);
  const mechanic = await stage.joined('Only mechanic', ['maintenance']);
  const instructor = await stage.joined('Only instructor', ['instructor']);
  const { CATALOGUE } = await import('../speak/fixture.ts');
  for (const device of [pilot, mechanic, instructor]) {
    const school = device.in();
    await expect(school.addPerson('Mallory', ['chief'])).rejects.toThrow('chief only');
    await expect(school.changePerson(device.person ?? '', { roles: ['chief'] })).rejects.toThrow(
      'chief only',
    );
    await expect(school.invite(null)).rejects.toThrow('chief only');
    await expect(school.shutOut(chief.store.device)).rejects.toThrow('chief only');
    await expect(
      school.setTerms({ sound: false, days: null, hear: [], phrases: 'own' as const }),
    ).rejects.toThrow('chief only');
    await expect(school.giveEdition(JSON.stringify(CATALOGUE), true)).rejects.toThrow('chief only');
    await expect(school.eraseSoundOf(chief.person ?? '')).rejects.toThrow(/only/i);
  }
  for (const device of [pilot, mechanic]) {
    await expect(device.in().people()).rejects.toThrow('chief or instructor only');
    await expect(device.in().devices()).rejects.toThrow('chief or instructor only');
  }
  // Their own sound they may have erased.
  expect(await pilot.in().eraseSoundOf(pilot.person ?? '')).toEqual({ recordings: 0, pictures: 0 });
});

test('19: what a role may not write is kept aside, told to its writer, and given to nobody', async () => {
  const pilot = await stage.joined('Writes too much', ['pilot']);
  const victim = await stage.joined('Victim', ['pilot']);
  const mechanic = await stage.joined('Walks not', ['maintenance']);
  const reader = await stage.joined('Reader', ['maintenance']);
  const bytes = Uint8Array.from([14, 4, 2]);
  const walk = await victim.walk({ squawk: 'crack', sound: bytes });
  await victim.sync();
  expect(stage.blobs.all.has(sha256Hex(bytes))).toBe(true);
  await pilot.write(rectified(`squawk-${walk}`));
  await pilot.write(
    {
      kind: 'reviewed',
      by: 'x',
      note: 'x',
      of: { kind: 'standing', check: 'drive-belts', standing: 'spoken' },
    },
    { walk },
  );
  await pilot.write({ kind: 'sound-erased', recording: `recording-${walk}`, why: 'x' }, { walk });
  // Nor from within a walk of their own.
  const own = await pilot.walk();
  await pilot.write(
    { kind: 'sound-erased', recording: `recording-${walk}`, why: 'x' },
    { walk: own },
  );
  await pilot.write(opened('honest', 'a real one'));
  await mechanic.walk();
  await mechanic.write(rectified(`squawk-${walk}`));
  await pilot.sync();
  await mechanic.sync();
  expect(pilot.progress().told.map((t) => t.why)).toEqual(
    expect.arrayContaining([
      'Only maintenance says that a squawk is rectified.',
      'Only an instructor reviews a walk, and only one of their students.',
      'Only the person whose sound it is and the chief have it erased.',
    ]),
  );
  expect(mechanic.progress().told.map((t) => t.why)).toContain(
    'Only a pilot or an instructor walks.',
  );
  await reader.sync();
  await victim.sync();
  const steps = (await reader.store.squawkEvents()).filter(
    (e) => e.what.kind === 'squawk' && e.what.squawk === `squawk-${walk}`,
  );
  expect(steps.map((e) => e.device).sort()).toEqual(
    [victim.store.device, mechanic.store.device].sort(),
  );
  expect(
    (await reader.store.squawkEvents()).map((e) => e.what.kind === 'squawk' && e.what.squawk),
  ).toContain('honest');
  expect((await victim.store.walk(walk)).map((e) => e.what.kind)).not.toContain('reviewed');
  const sound = await victim.store.sound(`recording-${walk}`);
  expect([sound.erased, sound.chunks.length]).toEqual([null, 1]);
  expect(stage.blobs.all.has(sha256Hex(bytes))).toBe(true);
  const lines = await chief.in().devices();
  expect(lines.find((d) => d.device === pilot.store.device)?.refused.length).toBeGreaterThan(0);
});

test('19: a walk that another device may not see is not opened, heard or listed', async () => {
  const owner = await stage.joined('Owner', ['pilot']);
  const other = await stage.joined('Curious', ['pilot']);
  const instructor = await stage.joined('Of others', ['instructor']);
  const mechanic = await stage.joined('Of aircraft', ['maintenance']);
  const sound = Uint8Array.from([7, 7, 7, 7, 9]);
  const walk = await owner.walk({ sound });
  await owner.sync();
  const named = (await owner.store.walk(walk)).find((e) => e.what.kind === 'sound-kept');
  const hash = named?.what.kind === 'sound-kept' ? named.what.hash : '';
  expect(await owner.in().sound(hash)).toEqual(sound);
  for (const device of [other, instructor, mechanic, chief]) {
    await device.sync();
    expect(await device.store.walk(walk)).toEqual([]);
    await expect(device.in().sound(hash)).rejects.toThrow('not for you to hear');
  }
  for (const device of [other, instructor])
    expect((await device.in().walks(null)).walks.map((w) => w.id)).not.toContain(walk);
  // Maintenance and the chief see that the aircraft was walked, and cannot open it.
  const line = (await mechanic.in().walks(null)).walks.find((w) => w.id === walk);
  expect(line).toMatchObject({ open: false });
});

test('19: a forged chain: changed, cut, forked, in another’s name or without a beginning: told on both sides, nothing overwritten', async () => {
  const device = await stage.joined('Forger', ['pilot']);
  const other = await stage.joined('Forged', ['pilot']);
  const walk = await device.walk();
  await device.sync();
  await other.walk();
  await other.sync();
  const before = await rowsOf(device);
  const log = await device.store.ownLog(null);
  const school = device.in();
  // Changed after it was written.
  const changed = (log[2] ?? '').replace('drive belts good', 'drive belts gone');
  expect((await school.events([changed])).refused[0]?.why).toContain('its hash does not match');
  // Of another device.
  const theirs = await other.store.ownLog(null);
  expect((await school.events(theirs)).refused[0]?.why).toContain('another device');
  // Another version of the end of a walk: kept aside, and shown.
  const third = JSON.parse(log[2] ?? '') as { prev: string };
  const forked = chain(
    [draft(device.world, { kind: 'finished', open: [], how: 'touched' }, walk)],
    device.store.device,
    third.prev,
  );
  const fork = await school.events(forked.map((c) => c.text));
  expect(fork.added).toBe(0);
  expect(fork.aside).toHaveLength(1);
  // In the middle of a walk that was never begun.
  const loose = chain(
    [draft(device.world, { kind: 'finished', open: [], how: 'touched' }, 'no-such-walk')],
    device.store.device,
    'f'.repeat(64),
  );
  const none = await school.events(loose.map((c) => c.text));
  expect(none.added).toBe(0);
  expect(none.aside[0]?.why).toBe('The beginning of its walk is missing.');
  // No event at all.
  expect((await school.events(['{"a":1}', 'not json'])).refused.map((r) => r.why)).toEqual([
    'It is not an event: the fields of the chain are missing.',
    'It is not JSON.',
  ]);
  const after = await rowsOf(device);
  expect(after.filter((r) => r.aside === null)).toEqual(before);
  const told = (await chief.in().devices()).find((d) => d.device === device.store.device)?.refused;
  expect(told?.length).toBeGreaterThanOrEqual(4);
});

test('19: limits: too many events, too large a body, an odd cursor, no JSON, too many requests', async () => {
  const device = await stage.joined('Greedy', ['pilot']);
  const school = device.in();
  await expect(school.events(Array.from({ length: 501 }, () => '{}'))).rejects.toThrow(
    'More than 500 events',
  );
  await expect(school.events(['x'.repeat(3_000_000)])).rejects.toThrow('the limit');
  await expect(school.hello(['\u0000'])).rejects.toThrow('has a letter that is none');
  await expect(school.hello(['no hash'])).rejects.toThrow('cannot be read: "editions.0"');
  await expect(school.feed('nonsense')).rejects.toThrow('no cursor');
  await expect(school.walks('nonsense')).rejects.toThrow('no cursor');
  await expect(school.giveEdition('{"id":1}', false)).rejects.toThrow('catalogue');
  const small = await schoolStage({ rate: 20 });
  try {
    const eager = await small.joined('Eager', ['pilot']);
    // Four times the rate: some are let in again while a slow machine answers the first.
    const all = await Promise.allSettled(Array.from({ length: 80 }, () => eager.in().walks(null)));
    const said = all.flatMap((r) => (r.status === 'rejected' ? [String(r.reason)] : []));
    expect(said.length).toBeGreaterThanOrEqual(15);
    expect(said.every((s) => s.includes('Too many requests'))).toBe(true);
  } finally {
    await small.close();
  }
});

test('19: who guesses at codes is slowed down', async () => {
  const guarded = await schoolStage({ guesses: 5 });
  try {
    const guesser = await guarded.device('Guesser');
    const key = await guesser.store.publicKey();
    const all = await Promise.allSettled(
      Array.from({ length: 12 }, (_, i) => guesser.api.invited(`guess-${i}`, key)),
    );
    const said = all.flatMap((r) => (r.status === 'rejected' ? [String(r.reason)] : []));
    expect(said).toHaveLength(12);
    expect(said.filter((s) => s.includes('Too many requests')).length).toBeGreaterThanOrEqual(6);
  } finally {
    await guarded.close();
  }
});

test('19: a school keeps its last chief, and no two people of one name', async () => {
  const alone = await schoolStage();
  try {
    const head = await alone.joined('Head', ['chief']);
    const people = await head.in().people();
    for (const person of people.filter((p) => p.id !== head.person))
      await head.in().changePerson(person.id, { roles: [] });
    await expect(head.in().changePerson(head.person ?? '', { roles: ['pilot'] })).rejects.toThrow(
      'A school has a chief',
    );
    await expect(head.in().changePerson(head.person ?? '', { gone: true })).rejects.toThrow(
      'A school has a chief',
    );
    await expect(head.in().addPerson(' head ', ['pilot'])).rejects.toThrow('already');
    await expect(head.in().changePerson('nobody', { voice: false })).rejects.toThrow(
      'no such person',
    );
    await expect(
      head.in().changePerson(head.person ?? '', { students: ['nobody'] }),
    ).rejects.toThrow('not of this school');
  } finally {
    await alone.close();
  }
});

test('19: two schools in one database see nothing of each other', async () => {
  const other = await schoolStage();
  try {
    const here = await stage.joined('Here', ['pilot', 'instructor']);
    await here.walk();
    await here.sync();
    here.use(other.school);
    await expect(here.sync()).rejects.toThrow('does not know this device');
  } finally {
    await other.close();
  }
});

test('19: the log of the server has no word and no name in it', async () => {
  const device = await stage.joined('Secret Name', ['pilot']);
  await device.walk({ words: ['a very secret sentence'] });
  await device.sync();
  const log = stage.lines.map((line) => JSON.stringify(line)).join('\n');
  expect(log).toContain('"route":"events"');
  expect(log).not.toContain('secret sentence');
  expect(log).not.toContain('Secret Name');
});
