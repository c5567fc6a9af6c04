import { afterAll, beforeAll, expect, test } from 'vitest';
import { CHALLENGE_LASTS } from '../../src/school/challenges.ts';
import { DESK_LASTS } from '../../src/school/joining.ts';
import { partyOf } from '../../src/school/party.ts';
import { ADD_WITHIN, MOST_PASSKEYS } from '../../src/school/passkeys.ts';
import { PROOF_LASTS } from '../../src/school/proof.ts';
import { Authenticator, type Wrong } from './authenticator.ts';
import { schoolStage, STARTING, type Device, type Stage } from './stage.ts';

let stage: Stage;
/** The stage under a name: its own address is a number, and passkeys hold for names. */
let base: string;
let origin: string;
let chief: Device & { readonly person: string | null };
beforeAll(async () => {
  stage = await schoolStage();
  base = stage.base.replace('127.0.0.1', 'localhost');
  origin = new URL(base).origin;
  chief = await stage.joined('P. Chief', ['chief']);
}, STARTING);
afterAll(() => stage.close());

/** A desk that is in no school yet. */
const newDesk = (name = 'Desk') =>
  stage.device(name, { fetch: (url, init) => fetch(String(url).replace(stage.base, base), init) });

/** A person with a desk that a phone signed in, so that a passkey can be added there. */
async function personWith(name: string, roles: Parameters<Stage['joined']>[1] = ['pilot']) {
  const phone = await stage.joined(name, roles);
  const desk = await newDesk(`${name}'s desk`);
  const { code } = await desk.api.askIn(stage.school, await desk.store.publicKey(), desk.name);
  await phone.in().letDeskIn(code);
  desk.use(stage.school);
  return { phone, desk, person: phone.person ?? '' };
}

async function passkeyAt(desk: Device, name = 'My key', wrong: Wrong = {}): Promise<Authenticator> {
  const key = new Authenticator(origin);
  const wish = await desk.in().askToAddPasskey();
  await desk.in().addPasskey(name, key.make(wish, wrong));
  return key;
}

async function askAt(desk: Device) {
  return desk.api.askToSignIn(stage.school, await desk.store.publicKey(), desk.name);
}

async function signIn(desk: Device, key: Authenticator, wrong: Wrong = {}): Promise<string> {
  const wish = await askAt(desk);
  const answer = key.use(wish, wrong);
  const publicKey = await desk.store.publicKey();
  const { name } = await desk.api.signIn(stage.school, publicKey, desk.name, answer);
  desk.use(stage.school);
  return name;
}

const deeds = async (kind: string) =>
  (
    await stage.database.sql
      .selectFrom('deed')
      .where('school', '=', stage.school)
      .where('kind', '=', kind)
      .selectAll()
      .execute()
  ).map((d) => d.of);

test('19: passkeys hold at a name: over HTTPS, or at this very machine', () => {
  expect(partyOf('school.example')).toEqual({
    id: 'school.example',
    origins: ['https://school.example'],
  });
  expect(partyOf('school.example:8443')?.origins).toEqual(['https://school.example:8443']);
  expect(partyOf('localhost:4710')?.origins).toEqual([
    'https://localhost:4710',
    'http://localhost:4710',
  ]);
  for (const none of [
    '192.168.1.7:4710',
    '127.0.0.1',
    '[::1]:80',
    '2130706433',
    '',
    'a b',
    undefined,
  ])
    expect(partyOf(none), String(none)).toBeNull();
});

test('19: with a passkey somebody signs a desk in, and it acts as them under the rules there are', async () => {
  const { desk, person } = await personWith('A. Ash', ['instructor']);
  const key = await passkeyAt(desk);
  const other = await newDesk();
  expect(await signIn(other, key)).toBe('A. Ash');
  const hello = await other.in().hello([]);
  expect(hello).toMatchObject({ person: { id: person, name: 'A. Ash' }, roles: ['instructor'] });
  expect((hello.until ?? 0) - hello.now).toBeLessThanOrEqual(DESK_LASTS);
  // It walks by the roles: an instructor sees the people, and changes none.
  expect((await other.in().people()).map((p) => p.name)).toContain('A. Ash');
  await expect(other.in().addPerson('Nobody', ['chief'])).rejects.toThrow('for chief only');
  expect(await deeds('desk-by-passkey')).toContain(other.store.device);
  expect(await deeds('passkey-added')).toHaveLength(1);
  // A day later it is signed out, and in again with the same passkey.
  stage.turn(DESK_LASTS + 1);
  await expect(other.in().walks(null)).rejects.toThrow('signed out');
  expect(await signIn(other, key)).toBe('A. Ash');
  await other.in().walks(null);
  stage.turn(-DESK_LASTS - 1);
});

test('19: nothing of a challenge is in the memory of the server: another server takes the answer', async () => {
  const { desk } = await personWith('B. Beech');
  const key = await passkeyAt(desk);
  const { schoolHandler } = await import('#school');
  const { createServer } = await import('node:http');
  const second = createServer((request, response) => {
    schoolHandler(stage.parts)(request, response);
  });
  await new Promise<void>((resolve) => second.listen(0, '127.0.0.1', resolve));
  const address = second.address();
  const port = typeof address === 'object' && address !== null ? address.port : 0;
  const first = new URL(stage.base).host;
  let turn = 0;
  const desk2 = await stage.device('Desk of two servers', {
    fetch: (url, init) => {
      turn += 1;
      // The page is one and the same: what stands before both passes the name on.
      return turn === 1
        ? fetch(String(url).replace(first, new URL(base).host), init)
        : proxied(String(url), init ?? {}, port);
    },
  });
  expect(await signIn(desk2, key)).toBe('B. Beech');
  expect(turn).toBe(2);
  second.closeAllConnections();
  await new Promise((resolve) => second.close(resolve));
});

/** As a proxy passes a request on: to another port, under the name that was asked. */
async function proxied(url: string, init: RequestInit, port: number): Promise<Response> {
  const { request } = await import('node:http');
  const { pathname, search } = new URL(url);
  const headers = Object.fromEntries(new Headers(init.headers));
  return new Promise((resolve, reject) => {
    const sent = request(
      {
        port,
        host: '127.0.0.1',
        path: pathname + search,
        method: init.method ?? 'GET',
        headers: { ...headers, host: new URL(base).host },
      },
      (answer) => {
        const parts: Buffer[] = [];
        answer.on('data', (part: Buffer) => parts.push(part));
        answer.on('end', () =>
          resolve(new Response(Buffer.concat(parts), { status: answer.statusCode ?? 500 })),
        );
      },
    );
    sent.on('error', reject);
    sent.end(init.body instanceof Uint8Array ? init.body : undefined);
  });
}

test('19: several passkeys a person, each by its name; one is removed, and the desks that it signed in with it', async () => {
  const { desk, phone } = await personWith('C. Cherry');
  const first = await passkeyAt(desk, 'Laptop');
  const second = await passkeyAt(desk, 'Ring');
  const byFirst = await newDesk('By first');
  const bySecond = await newDesk('By second');
  await signIn(byFirst, first);
  await signIn(bySecond, second);
  const lines = await phone.in().passkeys();
  expect(lines.map((l) => [l.name, l.person.name, l.used !== null, l.copied])).toEqual([
    ['Laptop', 'C. Cherry', true, false],
    ['Ring', 'C. Cherry', true, false],
  ]);
  await phone.in().removePasskey(lines[0]?.id ?? '');
  expect((await phone.in().passkeys()).map((l) => l.name)).toEqual(['Ring']);
  await expect(byFirst.in().walks(null)).rejects.toThrow('signed out');
  await bySecond.in().walks(null);
  await desk.in().walks(null);
  await expect(signIn(byFirst, first)).rejects.toThrow('was removed from the school');
  expect(await signIn(byFirst, second)).toBe('C. Cherry');
  await expect(phone.in().removePasskey(lines[0]?.id ?? '')).rejects.toThrow('no such passkey');
});

test('19: a chief shuts anybody’s out, and nobody else does; each sees their own only', async () => {
  const { desk, phone } = await personWith('D. Damson');
  const other = await stage.joined('E. Elder', ['pilot']);
  const key = await passkeyAt(desk, 'D key');
  const [line] = await phone.in().passkeys();
  expect(await other.in().passkeys()).toEqual([]);
  await expect(other.in().removePasskey(line?.id ?? '')).rejects.toThrow('not yours');
  expect((await chief.in().passkeys()).map((l) => l.person.name)).toContain('D. Damson');
  const used = await newDesk();
  await signIn(used, key);
  await chief.in().removePasskey(line?.id ?? '');
  await expect(used.in().walks(null)).rejects.toThrow('signed out');
  await expect(signIn(used, key)).rejects.toThrow('was removed');
  expect(await deeds('passkey-removed')).toContain(line?.id);
});

/** What is wrong with an answer, and what the school says to it. */
const WRONG: readonly (readonly [string, Wrong, string])[] = [
  ['asked for by another page', { origin: 'https://school.example.evil' }, 'not the school’s own'],
  ['asked for at another port', { origin: 'http://localhost:1' }, 'not the school’s own'],
  ['in a frame of another page', { crossOrigin: true }, 'not the school’s own'],
  ['bound to another name', { rpId: 'evil.example' }, 'could not be verified'],
  ['of another ceremony', { type: 'webauthn.create' }, 'could not be verified'],
  ['nobody proved who they are', { unverified: true }, 'could not be verified'],
  ['signed with another key', { forged: true }, 'could not be verified'],
  ['of another person', { userHandle: 'c29tZWJvZHk' }, 'could not be verified'],
];

test.each(WRONG)(
  '19: an answer %s is refused, and its challenge is spent',
  async (what, wrong, said) => {
    const { desk } = await personWith(`F. Fig ${what}`);
    const key = await passkeyAt(desk);
    const stranger = await newDesk();
    const wish = await askAt(stranger);
    const publicKey = await stranger.store.publicKey();
    const send = (answer: ReturnType<Authenticator['use']>) =>
      stranger.api.signIn(stage.school, publicKey, stranger.name, answer);
    await expect(send(key.use(wish, wrong))).rejects.toThrow(said);
    await expect(send(key.use(wish))).rejects.toThrow('This attempt is over');
    await expect(stranger.api.in(stage.school).walks(null)).rejects.toThrow('does not know');
    // The passkey itself is as good as before.
    expect(await signIn(stranger, key)).toContain('F. Fig');
  },
);

test('19: a challenge is good once, for this desk, for two minutes, and for signing in', async () => {
  const { desk, phone } = await personWith('G. Gean');
  const key = await passkeyAt(desk);
  const [one, two] = [await newDesk('One'), await newDesk('Two')];
  const publicKey = async (d: Device) => d.store.publicKey();
  const send = async (d: Device, answer: ReturnType<Authenticator['use']>) =>
    d.api.signIn(stage.school, await publicKey(d), d.name, answer);

  const used = key.use(await askAt(one));
  await send(one, used);
  await expect(send(one, used)).rejects.toThrow('This attempt is over');
  // Whoever copied the answer has another key.
  const stolen = key.use(await askAt(one));
  await expect(send(two, stolen)).rejects.toThrow('This attempt is over');
  await send(one, stolen);

  const late = key.use(await askAt(one));
  stage.turn(CHALLENGE_LASTS + 1);
  await expect(send(one, late)).rejects.toThrow('This attempt is over');
  stage.turn(-CHALLENGE_LASTS - 1);

  // The challenge of adding one signs nobody in, and the other way round.
  const adding = await phone
    .in()
    .askToAddPasskey()
    .catch((e: unknown) => String(e));
  expect(adding).toContain('an address with a name');
  const wish = await desk.in().askToAddPasskey();
  const crossed = key.use({ ...(await askAt(one)), challenge: wish.challenge });
  await expect(send(one, crossed)).rejects.toThrow('This attempt is over');
  const fresh = new Authenticator(origin);
  const crossing = fresh.make({ ...wish, challenge: (await askAt(desk)).challenge });
  await expect(desk.in().addPasskey('x', crossing)).rejects.toThrow('This attempt is over');
  // Invented.
  const invented = key.use({ ...(await askAt(one)), challenge: 'A'.repeat(43) });
  await expect(send(one, invented)).rejects.toThrow('This attempt is over');
});

test('19: a passkey that the school does not know, or another school does, signs nobody in', async () => {
  const { desk } = await personWith('H. Holly');
  await passkeyAt(desk);
  const foreign = new Authenticator(origin);
  await expect(signIn(await newDesk(), foreign)).rejects.toThrow('does not know this passkey');
  const { foundSchool } = await import('#school');
  const elsewhere = await foundSchool(stage.database, stage.parts.clock, 'Elsewhere', 'X. Chief');
  const key = await passkeyAt(desk);
  const there = await newDesk();
  const publicKey = await there.store.publicKey();
  const wish = await there.api.askToSignIn(elsewhere, publicKey, 'Desk');
  await expect(there.api.signIn(elsewhere, publicKey, 'Desk', key.use(wish))).rejects.toThrow(
    'does not know this passkey',
  );
  await expect(there.api.askToSignIn('no-such', publicKey, 'Desk')).rejects.toThrow(
    'no such school',
  );
});

test('19: one that counted backwards is shut, its desks stay as they are, and its holder is told', async () => {
  const { desk, phone } = await personWith('I. Ivy');
  const key = await passkeyAt(desk);
  const one = await newDesk();
  await signIn(one, key, { counter: 7 });
  for (const counter of [7, 3, 0]) {
    await expect(signIn(await newDesk(), key, { counter })).rejects.toThrow('counted backwards');
  }
  // Also what counts on is refused from here: nobody knows which of the two is the copy.
  await expect(signIn(await newDesk(), key, { counter: 9 })).rejects.toThrow('counted backwards');
  const [line] = await phone.in().passkeys();
  expect(line).toMatchObject({ copied: true });
  await phone.in().removePasskey(line?.id ?? '');
  expect(await phone.in().passkeys()).toEqual([]);
  await expect(signIn(await newDesk(), key, { counter: 10 })).rejects.toThrow('was removed');
});

test('19: a passkey that is carried between devices never counts, and is no copy for that', async () => {
  const { desk } = await personWith('J. Jasmine');
  const key = await passkeyAt(desk, 'Synced', { counter: 0 });
  for (let i = 0; i < 3; i += 1)
    expect(await signIn(await newDesk(), key, { counter: 0 })).toBe('J. Jasmine');
});

test('19: two answers of one passkey at once: the one that counts less is refused', async () => {
  const { desk } = await personWith('K. Kerria');
  const key = await passkeyAt(desk);
  const [one, two] = [await newDesk('One'), await newDesk('Two')];
  const results = await Promise.allSettled([
    signIn(one, key, { counter: 5 }),
    signIn(two, key, { counter: 5 }),
  ]);
  expect(results.map((r) => r.status).sort()).toEqual(['fulfilled', 'rejected']);
});

test('19: who adds a passkey is known, was there just now, and is one person; what was made is looked at', async () => {
  const { desk, person } = await personWith('L. Lilac');
  // A phone by its number cannot, a shared one never, and nobody who is not in.
  const shared = await stage.joined('Shared', null);
  await expect(shared.in().askToAddPasskey()).rejects.toThrow('an address with a name');
  const code = await stage.code(null);
  const sharedByName = await newDesk('Shared by name');
  await sharedByName.join(code);
  await expect(sharedByName.in().askToAddPasskey()).rejects.toThrow('This phone is shared');
  await expect((await newDesk()).api.in(stage.school).askToAddPasskey()).rejects.toThrow(
    'does not know this device',
  );
  for (const [what, wrong] of WRONG.filter(
    ([, w]) => w.forged === undefined && w.userHandle === undefined,
  )) {
    const made = { ...wrong, ...(wrong.type === undefined ? {} : { type: 'webauthn.get' }) };
    await expect(passkeyAt(desk, what, made), what).rejects.toThrow(
      /not the school’s own|verified/,
    );
  }
  const key = new Authenticator(origin);
  await desk.in().addPasskey('Once', key.make(await desk.in().askToAddPasskey()));
  const wish = await desk.in().askToAddPasskey();
  expect(wish.excludeCredentials.map((c) => c.id)).toContain(key.id);
  await expect(desk.in().addPasskey('Twice', key.make(wish))).rejects.toThrow(
    'in the school already',
  );
  // An open desk in an empty office adds none.
  stage.turn(ADD_WITHIN + PROOF_LASTS);
  await expect(desk.in().askToAddPasskey()).rejects.toThrow('signed in a while ago');
  stage.turn(-ADD_WITHIN - PROOF_LASTS);
  for (let n = 1; n < MOST_PASSKEYS; n += 1) await passkeyAt(desk, `Key ${n}`);
  await expect(desk.in().askToAddPasskey()).rejects.toThrow('remove one first');
  expect(person).not.toBe('');
});

test('19: who has left the school signs no desk in with a passkey of then', async () => {
  const { desk, person } = await personWith('M. Mimosa');
  const key = await passkeyAt(desk);
  await chief.in().changePerson(person, { gone: true });
  await expect(signIn(await newDesk(), key)).rejects.toThrow('has left the school');
});

test('19: a phone never becomes a desk by a passkey, nor by a phone, and keeps its own place', async () => {
  const { desk } = await personWith('N. Nettle', ['chief']);
  const key = await passkeyAt(desk);
  const phone = await newDesk('A pilot’s phone');
  await phone.join(await stage.code(await stage.person('O. Olive', ['pilot'])));
  await expect(signIn(phone, key)).rejects.toThrow('as a phone');
  expect((await phone.in().hello([])).roles).toEqual(['pilot']);
});

test('19: where the address is a number, the school says so, and a desk is signed in with a phone', async () => {
  const plain = await stage.device('By number');
  const publicKey = await plain.store.publicKey();
  await expect(plain.api.askToSignIn(stage.school, publicKey, 'Desk')).rejects.toThrow(
    'an address with a name',
  );
  const about = async (at: string) => (await fetch(`${at}about`)).json() as Promise<unknown>;
  expect(await about(stage.base)).toMatchObject({ passkeys: false });
  expect(await about(base)).toMatchObject({ passkeys: true });
});

test('19: what is no answer at all is refused with one sentence, and the server goes on', async () => {
  const desk = await newDesk();
  const publicKey = await desk.store.publicKey();
  const wish = await askAt(desk);
  const key = new Authenticator(origin);
  const good = key.use(wish);
  const odd = (response: Partial<(typeof good)['response']>) =>
    desk.api.signIn(stage.school, publicKey, 'Desk', {
      ...good,
      response: { ...good.response, ...response },
    });
  await expect(odd({ clientDataJSON: 'bm9uc2Vuc2U' })).rejects.toThrow('could not be verified');
  await expect(odd({ clientDataJSON: '' })).rejects.toThrow('could not be verified');
  await expect(odd({ clientDataJSON: 'not base64 !' })).rejects.toThrow('cannot be read');
  await expect(odd({ signature: 'x'.repeat(9000) })).rejects.toThrow('cannot be read');
  expect(stage.lines.filter((line) => line['what'] === 'failed')).toEqual([]);
});

test('19: challenges that are over are swept out', async () => {
  const { forgetChallenges } = await import('../../src/school/challenges.ts');
  await askAt(await newDesk());
  const count = async () =>
    (await stage.database.sql.selectFrom('challenge').selectAll().execute()).length;
  expect(await count()).toBeGreaterThan(0);
  await forgetChallenges(stage.database, stage.parts.clock.now() + 2 * DESK_LASTS);
  expect(await count()).toBe(0);
});
