import type { Invited, Invitation, JoinRequest, Terms } from '#shared/school';
import { canonical, sha256Hex, toBase64Url } from '#store/pure';
import type { Clock } from './clock.ts';
import type { Database } from './database.ts';
import { Refused } from './refused.ts';
import type { Caller } from './roles.ts';

/**
 * How long a code is good, milliseconds. Shorter: the phone's camera is not open
 * in time, and the code is made again. Longer: a photograph of the desk is a key.
 */
export const CODE_LASTS = 10 * 60_000;
/** The same for a desk that waits for a phone. */
export const ASKING_LASTS = 5 * 60_000;
/** After which a desk is signed out by itself: a working day. */
export const DESK_LASTS = 12 * 3_600_000;

/** Digits that a desk shows: they are typed on a phone, and only a joined phone may try. */
const DIGITS = 8;

const NO_CODE =
  'This code is not good: it was used, or it is too old. Ask for another at the desk.';

const hashOfCode = (code: string) => sha256Hex(`talkround code ${code.trim()}`);

/** A code for one device, once. */
export async function invite(
  { sql: db }: Database,
  clock: Clock,
  school: string,
  by: string,
  person: string | null,
): Promise<Invitation> {
  if (person !== null) {
    const there = await db
      .selectFrom('person')
      .where('school', '=', school)
      .where('id', '=', person)
      .where('gone', 'is', null)
      .select('id')
      .executeTakeFirst();
    if (there === undefined) throw new Refused(404, 'There is no such person.');
  }
  const code = toBase64Url(clock.bytes(16));
  const expires = clock.now() + CODE_LASTS;
  await db
    .insertInto('invitation')
    .values({
      school,
      code: hashOfCode(code),
      person,
      made_by: by,
      made: clock.now(),
      expires,
      used: null,
      device: null,
    })
    .execute();
  return { code, expires };
}

/** What somebody is asked to agree to, before anything is known of their device. */
export async function invited({ sql: db }: Database, clock: Clock, code: string): Promise<Invited> {
  const row = await db
    .selectFrom('invitation as i')
    .innerJoin('school as s', 's.id', 'i.school')
    .leftJoin('person as p', (join) =>
      join.onRef('p.school', '=', 'i.school').onRef('p.id', '=', 'i.person'),
    )
    .where('i.code', '=', hashOfCode(code))
    .where('i.used', 'is', null)
    .where('i.expires', '>', clock.now())
    .select(['s.id', 's.name', 's.terms', 'p.name as person', 'p.roles'])
    .executeTakeFirst();
  if (row === undefined) throw new Refused(404, NO_CODE);
  return {
    school: row.id,
    name: row.name,
    person: row.person,
    roles: row.person === null ? ['pilot'] : [...(row.roles ?? [])],
    terms: row.terms,
  };
}

const sameTerms = (a: Terms, b: Terms) => canonical(a) === canonical(b);

/** Lets a device in. Its key has signed the request, so that nobody joins with another's. */
export async function join(
  { sql: db }: Database,
  clock: Clock,
  request: JoinRequest,
): Promise<{ readonly school: string }> {
  return db.transaction().execute(async (tx) => {
    const row = await tx
      .updateTable('invitation')
      .set({ used: clock.now(), device: request.device })
      .where('code', '=', hashOfCode(request.code))
      .where('used', 'is', null)
      .where('expires', '>', clock.now())
      .returning(['school', 'person'])
      .executeTakeFirst();
    if (row === undefined) throw new Refused(404, NO_CODE);
    const { terms } = await tx
      .selectFrom('school')
      .where('id', '=', row.school)
      .select('terms')
      .executeTakeFirstOrThrow();
    if (!sameTerms(terms, request.terms))
      throw new Refused(
        409,
        'The school changed what it keeps while you were reading: read it again.',
      );
    const there = await tx
      .selectFrom('device')
      .where('school', '=', row.school)
      .where((e) => e.or([e('id', '=', request.device), e('public_key', '=', request.publicKey)]))
      .select(['id', 'public_key'])
      .execute();
    // The same device comes again, to be somebody else's or after it was shut out.
    const same = there.some((d) => d.id === request.device && d.public_key === request.publicKey);
    if (there.length > 0 && !same)
      throw new Refused(
        409,
        'A device by this name is in the school with another key. If this one lost its record, erase it and join it as a new one.',
      );
    const given = {
      name: request.name,
      person: row.person,
      desk: false,
      joined: clock.now(),
      until: null,
      shut: null,
      shut_by: null,
    };
    await tx
      .insertInto('device')
      .values({
        school: row.school,
        id: request.device,
        public_key: request.publicKey,
        head: null,
        walk: null,
        seen: null,
        editions: '[]',
        ...given,
      })
      .onConflict((c) => c.columns(['school', 'id']).doUpdateSet(given))
      .execute();
    return { school: row.school };
  });
}

/** One touch: from here on nothing of the device enters, and nothing is given to it. */
export async function shutOut(
  { sql: db }: Database,
  clock: Clock,
  caller: Caller,
  device: string,
): Promise<void> {
  const done = await db
    .updateTable('device')
    .set({ shut: clock.now(), shut_by: caller.person })
    .where('school', '=', caller.school)
    .where('id', '=', device)
    .executeTakeFirst();
  if (Number(done.numUpdatedRows) === 0) throw new Refused(404, 'There is no such device.');
}

/** A desk asks to be let in; a phone that is in types what it shows. */
export async function askIn(
  { sql: db }: Database,
  clock: Clock,
  school: string,
  desk: AskingDesk,
): Promise<Invitation> {
  const there = await db.selectFrom('school').where('id', '=', school).select('id').execute();
  if (there.length === 0) throw new Refused(404, 'There is no such school.');
  const code = Array.from(clock.bytes(DIGITS), (byte) => String(byte % 10)).join('');
  const expires = clock.now() + ASKING_LASTS;
  await db
    .insertInto('asking')
    .values({
      school,
      code: hashOfCode(`${school} ${code}`),
      device: desk.device,
      public_key: desk.publicKey,
      name: desk.name,
      expires,
      used: null,
    })
    .execute();
  return { code, expires };
}

/** Who holds a joined phone lets a desk in, as themselves. */
export async function letIn(
  database: Database,
  clock: Clock,
  caller: Caller,
  code: string,
): Promise<{ readonly name: string }> {
  if (caller.person === null)
    throw new Refused(403, 'This phone is shared: sign in with a phone of your own.');
  if (caller.desk) throw new Refused(403, 'A desk lets no other desk in: use your phone.');
  const person = caller.person;
  return database.sql.transaction().execute(async (tx) => {
    const row = await tx
      .updateTable('asking')
      .set({ used: clock.now() })
      .where('school', '=', caller.school)
      .where('code', '=', hashOfCode(`${caller.school} ${code}`))
      .where('used', 'is', null)
      .where('expires', '>', clock.now())
      .returning(['device', 'public_key', 'name'])
      .executeTakeFirst();
    if (row === undefined) throw new Refused(404, NO_CODE);
    const desk = { ...row, publicKey: row.public_key, passkey: null };
    await signDeskIn(tx, clock, caller.school, desk, person);
    return { name: row.name };
  });
}

/** A desk as it asks to be signed in: its id, its own key, what it calls itself. */
export interface AskingDesk {
  readonly device: string;
  readonly publicKey: string;
  readonly name: string;
}

/** Binds a desk's own key to a person, for a day. Throws `Refused` when the key, or a phone, is there by that id. */
export async function signDeskIn(
  tx: Pick<Database['sql'], 'insertInto'>,
  clock: Clock,
  school: string,
  desk: AskingDesk & { readonly passkey: string | null },
  person: string,
): Promise<void> {
  const given = {
    person,
    passkey: desk.passkey,
    desk: true,
    until: clock.now() + DESK_LASTS,
    shut: null,
    shut_by: null,
  };
  const row = await tx
    .insertInto('device')
    .values({
      school,
      id: desk.device,
      public_key: desk.publicKey,
      name: desk.name,
      joined: clock.now(),
      head: null,
      walk: null,
      seen: null,
      editions: '[]',
      ...given,
    })
    .onConflict((c) =>
      c
        .columns(['school', 'id'])
        .doUpdateSet(given)
        // A desk's id with another key is another desk; a phone never becomes one.
        .whereRef('device.public_key', '=', (e) => e.val(desk.publicKey))
        .where('device.desk', '=', true),
    )
    .returning('id')
    .executeTakeFirst();
  if (row === undefined)
    throw new Refused(
      409,
      'This device is in the school as a phone, or with another key: it is no desk.',
    );
}
