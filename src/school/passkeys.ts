import {
  generateAuthenticationOptions,
  generateRegistrationOptions,
  verifyAuthenticationResponse,
  verifyRegistrationResponse,
} from '@simplewebauthn/server';
import { z } from 'zod';
import { PasskeyWish, SignInWish } from '#shared/passkey';
import type { PasskeyLine, PasskeyMade, PasskeyUsed } from '#shared/passkey';
import { fromBase64Url, toBase64Url } from '#store/pure';
import { CHALLENGE_LASTS, challengeFor, spend, type ChallengeOf } from './challenges.ts';
import type { Clock } from './clock.ts';
import type { Database } from './database.ts';
import { DESK_LASTS, signDeskIn, type AskingDesk } from './joining.ts';
import type { Party } from './party.ts';
import { Refused } from './refused.ts';
import type { Caller } from './roles.ts';

/**
 * How long after its sign-in a desk may add a passkey, milliseconds. Shorter: who
 * reads first signs in again. Longer: whoever passes an open desk makes a way in
 * for themselves that lasts.
 */
export const ADD_WITHIN = 15 * 60_000;
/** Passkeys of one person at most: a phone, a desk, a key on the ring, and their spares. */
export const MOST_PASSKEYS = 10;

const NOT_HERE =
  'Passkeys need an address with a name, over HTTPS. Here a desk is signed in with a phone.';
const NOT_HELD =
  'This passkey could not be verified: what came is not what the school asked it for.';

/** Throws `Refused` where passkeys cannot be. */
export function heldBy(party: Party | null): Party {
  if (party === null) throw new Refused(409, NOT_HERE);
  return party;
}

/** Who holds a passkey, in its own words: the id of the person, and no name. */
const handleOf = (person: string) => new TextEncoder().encode(person);

/** What the browser is to ask for, so that somebody signs a desk in. */
export async function askToSignIn(
  database: Database,
  clock: Clock,
  party: Party,
  desk: AskingDesk & { readonly school: string },
): Promise<SignInWish> {
  const school = await database.sql
    .selectFrom('school')
    .where('id', '=', desk.school)
    .select('id')
    .executeTakeFirst();
  if (school === undefined) throw new Refused(404, 'There is no such school.');
  const challenge = await challengeFor(database, clock, signInOf(party, desk));
  const options = await generateAuthenticationOptions({
    rpID: party.id,
    challenge,
    userVerification: 'required',
    timeout: CHALLENGE_LASTS,
  });
  return SignInWish.parse(options);
}

const signInOf = (party: Party, desk: AskingDesk & { readonly school: string }): ChallengeOf => ({
  school: desk.school,
  kind: 'sign-in',
  device: desk.device,
  publicKey: desk.publicKey,
  person: null,
  party: party.id,
});

/** Signs a desk in as the holder of a passkey. */
export async function signInWith(
  database: Database,
  clock: Clock,
  party: Party,
  desk: AskingDesk & { readonly school: string },
  answer: PasskeyUsed,
): Promise<{ readonly person: string; readonly name: string }> {
  const said = saidIn(answer.response.clientDataJSON);
  const { challenge } = said;
  await spend(database, clock, challenge, signInOf(party, desk));
  ownPage(said, party);
  const done = await database.sql.transaction().execute(async (tx) => {
    const row = await tx
      .selectFrom('passkey as k')
      .innerJoin('person as p', (join) =>
        join.onRef('p.school', '=', 'k.school').onRef('p.id', '=', 'k.person'),
      )
      .where('k.school', '=', desk.school)
      .where('k.credential', '=', answer.id)
      .select(['k.id', 'k.person', 'k.public_key', 'k.counter', 'k.party', 'k.shut', 'k.copied'])
      .select(['p.name', 'p.gone'])
      .forUpdate()
      .executeTakeFirst();
    if (row === undefined)
      throw new Refused(
        403,
        'The school does not know this passkey. Sign in with your phone, then add it.',
      );
    const counter = await verified(party, challenge, answer, row);
    // From here on it is told what became of it: only who holds it is told.
    if (row.copied) throw new Refused(403, COPIED);
    if (row.shut !== null)
      throw new Refused(
        403,
        'This passkey was removed from the school. Use another, or your phone.',
      );
    if (row.gone !== null)
      throw new Refused(
        403,
        'Whoever this passkey belongs to has left the school. Ask at the desk.',
      );
    // One that never counts stays at nought: passkeys that are carried between devices do.
    const back = (counter > 0 || row.counter > 0) && counter <= row.counter;
    await tx
      .updateTable('passkey')
      .set(back ? { copied: true, shut: clock.now() } : { counter, used: clock.now() })
      .where('school', '=', desk.school)
      .where('id', '=', row.id)
      .execute();
    if (back) return null;
    await signDeskIn(tx, clock, desk.school, { ...desk, passkey: row.id }, row.person);
    return { person: row.person, name: row.name };
  });
  if (done === null) throw new Refused(403, COPIED);
  return done;
}

const COPIED =
  'This passkey counted backwards, so it may have been copied: it is shut. Sign in with your phone, remove it, and add a new one.';

/** What its counter stands at. Throws `Refused` when it is not the passkey's own signature over this challenge, here. */
async function verified(
  party: Party,
  challenge: string,
  answer: PasskeyUsed,
  row: { readonly public_key: string; readonly party: string; readonly person: string },
): Promise<number> {
  const { userHandle, ...response } = answer.response;
  const another = userHandle !== undefined && userHandle !== toBase64Url(handleOf(row.person));
  if (another || row.party !== party.id) throw new Refused(403, NOT_HELD);
  try {
    const { verified: good, authenticationInfo } = await verifyAuthenticationResponse({
      response: { ...answer, response, clientExtensionResults: {} },
      expectedChallenge: challenge,
      expectedOrigin: [...party.origins],
      expectedRPID: party.id,
      // Compared by us, so that one that counted backwards is shut and not only refused.
      credential: { id: answer.id, publicKey: bytesOf(row.public_key), counter: 0 },
      requireUserVerification: true,
    });
    if (good) return authenticationInfo.newCounter;
  } catch {
    // The library's sentences are for programmers.
  }
  throw new Refused(403, NOT_HELD);
}

const bytesOf = (text: string): Uint8Array<ArrayBuffer> =>
  Uint8Array.from(fromBase64Url(text) ?? []);

const ClientData = z.object({
  type: z.string(),
  challenge: z.string(),
  origin: z.string(),
  crossOrigin: z.boolean().optional(),
});

type Said = z.infer<typeof ClientData>;

/** What the browser says of the page; not to be believed before the signature holds, only refused. */
function saidIn(encoded: string): Said {
  let json: unknown;
  try {
    json = JSON.parse(new TextDecoder().decode(fromBase64Url(encoded) ?? new Uint8Array()));
  } catch {
    throw new Refused(403, NOT_HELD);
  }
  const said = ClientData.safeParse(json);
  if (!said.success) throw new Refused(403, NOT_HELD);
  return said.data;
}

/** Throws `Refused` unless our own page asked. In a frame of somebody else's nobody sees whom they sign in to. */
function ownPage({ origin, crossOrigin }: Said, party: Party): void {
  if (!party.origins.includes(origin) || crossOrigin === true)
    throw new Refused(403, 'This passkey was asked for by a page that is not the school’s own.');
}

/** Whose passkey is to be added. Throws `Refused` unless they are known, and were just now. */
async function holderOf(
  { sql: db }: Database,
  clock: Clock,
  caller: Caller,
): Promise<{ readonly person: string; readonly name: string }> {
  const { person, personName } = caller;
  if (person === null)
    throw new Refused(403, 'This phone is shared: a passkey belongs to one person.');
  const { until } = await db
    .selectFrom('device')
    .where('school', '=', caller.school)
    .where('id', '=', caller.device)
    .select('until')
    .executeTakeFirstOrThrow();
  if (until !== null && until - DESK_LASTS + ADD_WITHIN < clock.now())
    throw new Refused(
      403,
      'This desk was signed in a while ago. Sign out and in again, then add a passkey within a quarter of an hour.',
    );
  return { person, name: personName ?? person };
}

const addOf = (party: Party, caller: Caller): ChallengeOf => ({
  school: caller.school,
  kind: 'new-passkey',
  device: caller.device,
  publicKey: caller.publicKey,
  person: caller.person,
  party: party.id,
});

/** What the browser is to ask for, so that a passkey is made. */
export async function askToAdd(
  database: Database,
  clock: Clock,
  party: Party,
  caller: Caller,
): Promise<PasskeyWish> {
  const { person, name } = await holderOf(database, clock, caller);
  const [school, there] = await Promise.all([
    database.sql
      .selectFrom('school')
      .where('id', '=', caller.school)
      .select('name')
      .executeTakeFirstOrThrow(),
    database.sql
      .selectFrom('passkey')
      .where('school', '=', caller.school)
      .where('person', '=', person)
      .where('shut', 'is', null)
      .select('credential')
      .execute(),
  ]);
  if (there.length >= MOST_PASSKEYS)
    throw new Refused(409, `You have ${MOST_PASSKEYS} passkeys: remove one first.`);
  const options = await generateRegistrationOptions({
    rpName: school.name,
    rpID: party.id,
    userName: name,
    userDisplayName: name,
    userID: handleOf(person),
    challenge: await challengeFor(database, clock, addOf(party, caller)),
    timeout: CHALLENGE_LASTS,
    attestationType: 'none',
    authenticatorSelection: { residentKey: 'required', userVerification: 'required' },
    excludeCredentials: there.map(({ credential }) => ({ id: credential })),
  });
  return PasskeyWish.parse(options);
}

/** Takes a passkey that was made into the school. @returns its id */
export async function addPasskey(
  database: Database,
  clock: Clock,
  party: Party,
  caller: Caller,
  { name, made }: { readonly name: string; readonly made: PasskeyMade },
): Promise<string> {
  const { person } = await holderOf(database, clock, caller);
  const said = saidIn(made.response.clientDataJSON);
  await spend(database, clock, said.challenge, addOf(party, caller));
  ownPage(said, party);
  const credential = await credentialIn(party, said.challenge, made);
  const id = clock.id();
  const row = await database.sql
    .insertInto('passkey')
    .values({
      school: caller.school,
      id,
      credential: credential.id,
      person,
      public_key: toBase64Url(credential.publicKey),
      counter: credential.counter,
      party: party.id,
      name: name.trim() === '' ? 'Passkey' : name.trim(),
      added: clock.now(),
      added_by: caller.device,
      used: null,
      shut: null,
    })
    .onConflict((c) => c.columns(['school', 'credential']).doNothing())
    .returning('id')
    .executeTakeFirst();
  if (row === undefined) throw new Refused(409, 'This passkey is in the school already.');
  return id;
}

async function credentialIn(party: Party, challenge: string, made: PasskeyMade) {
  try {
    const done = await verifyRegistrationResponse({
      response: { ...made, clientExtensionResults: {} },
      expectedChallenge: challenge,
      expectedOrigin: [...party.origins],
      expectedRPID: party.id,
      requireUserVerification: true,
    });
    if (done.verified) return done.registrationInfo.credential;
  } catch {
    // The library's sentences are for programmers.
  }
  throw new Refused(403, NOT_HELD);
}

/** One's own, and for a chief everybody's; those that were removed are gone from it. */
export async function passkeys(
  { sql: db }: Database,
  caller: Caller,
): Promise<readonly PasskeyLine[]> {
  const all = caller.roles.has('chief');
  const rows = await db
    .selectFrom('passkey as k')
    .innerJoin('person as p', (join) =>
      join.onRef('p.school', '=', 'k.school').onRef('p.id', '=', 'k.person'),
    )
    .where('k.school', '=', caller.school)
    .where((e) => e.or([e('k.shut', 'is', null), e('k.copied', '=', true)]))
    .$if(!all, (q) => q.where('k.person', '=', caller.person ?? ''))
    .select(['k.id', 'k.person', 'k.name', 'k.added', 'k.used', 'k.copied', 'p.name as holder'])
    .orderBy('p.name')
    .orderBy('k.added')
    .execute();
  return rows.map(({ person, holder, ...row }) => ({
    ...row,
    person: { id: person, name: holder },
  }));
}

/** Removes one's own passkey; a chief shuts anybody's out. The desks that it signed in are signed out. */
export async function removePasskey(
  { sql: db }: Database,
  clock: Clock,
  caller: Caller,
  id: string,
): Promise<void> {
  const all = caller.roles.has('chief');
  await db.transaction().execute(async (tx) => {
    const row = await tx
      .updateTable('passkey')
      .set({ shut: clock.now(), copied: false })
      .where('school', '=', caller.school)
      .where('id', '=', id)
      .where((e) => e.or([e('shut', 'is', null), e('copied', '=', true)]))
      .$if(!all, (q) => q.where('person', '=', caller.person ?? ''))
      .returning('id')
      .executeTakeFirst();
    if (row === undefined) throw new Refused(404, 'There is no such passkey, or it is not yours.');
    await tx
      .updateTable('device')
      .set({ until: clock.now() })
      .where('school', '=', caller.school)
      .where('passkey', '=', id)
      .where('desk', '=', true)
      .where('until', '>', clock.now())
      .execute();
  });
}
