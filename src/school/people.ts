import { sql, type Transaction } from 'kysely';
import type { Person, Role, Terms } from '#shared/school';
import type { Clock } from './clock.ts';
import type { Database } from './database.ts';
import { Refused } from './refused.ts';
import type { Tables } from './tables.ts';

/** Everybody of the school, by name. */
export async function people({ sql: db }: Database, school: string): Promise<readonly Person[]> {
  const [rows, teaches] = await Promise.all([
    db.selectFrom('person').where('school', '=', school).selectAll().orderBy('name').execute(),
    db.selectFrom('teaches').where('school', '=', school).selectAll().execute(),
  ]);
  return rows.map(({ id, name, roles, voice, gone }) => ({
    id,
    name,
    roles: [...roles],
    voice,
    students: teaches.filter((t) => t.instructor === id).map((t) => t.student),
    gone: gone !== null,
  }));
}

/** A letter that no database keeps in a text; what has it stays in the log alone. */
const NUL = '\u0000';

/** Who is called so and has not left; null for nobody. */
export async function personNamed(
  tx: Transaction<Tables>,
  school: string,
  name: string | null,
): Promise<string | null> {
  const plain = name?.trim().toLowerCase() ?? '';
  if (plain === '' || plain.includes(NUL)) return null;
  const row = await tx
    .selectFrom('person')
    .where('school', '=', school)
    .where('gone', 'is', null)
    .where(sql<string>`lower(name)`, '=', plain)
    .select('id')
    .executeTakeFirst();
  return row?.id ?? null;
}

export interface NewPerson {
  readonly name: string;
  readonly roles: readonly Role[];
}

/** Adds somebody. Walks under their name become theirs. */
export async function addPerson(
  { sql: db }: Database,
  clock: Clock,
  school: string,
  { name, roles }: NewPerson,
): Promise<string> {
  const id = clock.id();
  await db.transaction().execute(async (tx) => {
    await fresh(tx, school, name, id);
    await tx
      .insertInto('person')
      .values({ school, id, name: name.trim(), roles: [...roles], since: clock.now(), gone: null })
      .execute();
    const lower = name.trim().toLowerCase();
    await sql`update walk set pilot_id = ${id}
      where school = ${school} and pilot_id is null and lower(trim(pilot)) = ${lower}`.execute(tx);
    await sql`update walk set instructor_id = ${id}
      where school = ${school} and instructor_id is null and lower(trim(instructor)) = ${lower}`.execute(
      tx,
    );
    await sql`update phrase set person = ${id}
      where school = ${school} and person is null and lower(trim(speaker)) = ${lower}`.execute(tx);
    await seenAnew(tx, school);
  });
  return id;
}

async function fresh(tx: Transaction<Tables>, school: string, name: string, id: string) {
  if (name.trim() === '') throw new Refused(400, 'A person needs a name.');
  const there = await tx
    .selectFrom('person')
    .where('school', '=', school)
    .where('gone', 'is', null)
    .where(sql<string>`lower(name)`, '=', name.trim().toLowerCase())
    .where('id', '!=', id)
    .select('id')
    .executeTakeFirst();
  if (there !== undefined)
    throw new Refused(409, `There is somebody named ${name.trim()} already: add an initial.`);
}

export interface PersonChange {
  readonly roles?: readonly Role[] | undefined;
  readonly voice?: boolean | undefined;
  readonly students?: readonly string[] | undefined;
  readonly gone?: boolean | undefined;
}

/** Changes what somebody may do. The last chief stays one. */
export async function changePerson(
  { sql: db }: Database,
  clock: Clock,
  school: string,
  id: string,
  change: PersonChange,
): Promise<void> {
  await db.transaction().execute(async (tx) => {
    const set = {
      ...(change.roles === undefined ? {} : { roles: [...change.roles] }),
      ...(change.voice === undefined ? {} : { voice: change.voice }),
      ...(change.gone === undefined ? {} : { gone: change.gone ? clock.now() : null }),
    };
    // One at a time, so that two chiefs cannot dismiss each other.
    await tx.selectFrom('school').where('id', '=', school).select('id').forUpdate().execute();
    if (Object.keys(set).length > 0) {
      const done = await tx
        .updateTable('person')
        .set(set)
        .where('school', '=', school)
        .where('id', '=', id)
        .executeTakeFirst();
      if (Number(done.numUpdatedRows) === 0) throw new Refused(404, 'There is no such person.');
    }
    if (change.students !== undefined) {
      await tx
        .deleteFrom('teaches')
        .where('school', '=', school)
        .where('instructor', '=', id)
        .execute();
      const there = await tx
        .selectFrom('person')
        .where('school', '=', school)
        .where('id', 'in', ['', ...change.students])
        .select('id')
        .execute();
      if (there.length !== new Set(change.students).size)
        throw new Refused(404, 'One of these students is not of this school.');
      if (there.length > 0)
        await tx
          .insertInto('teaches')
          .values(there.map((row) => ({ school, instructor: id, student: row.id })))
          .execute();
    }
    const chiefs = await tx
      .selectFrom('person')
      .where('school', '=', school)
      .where('gone', 'is', null)
      .where(sql<boolean>`'chief' = any(roles)`)
      .select('id')
      .execute();
    if (chiefs.length === 0)
      throw new Refused(409, 'A school has a chief: make somebody else one first.');
    await seenAnew(tx, school);
  });
}

/** Who may see what has changed: every device asks for everything again. */
export async function seenAnew(tx: Transaction<Tables>, school: string): Promise<void> {
  await tx
    .updateTable('school')
    .set((e) => ({ epoch: e('epoch', '+', 1) }))
    .where('id', '=', school)
    .execute();
}

export async function setTerms({ sql: db }: Database, school: string, terms: Terms): Promise<void> {
  await db.transaction().execute(async (tx) => {
    const before = await tx
      .selectFrom('school')
      .where('id', '=', school)
      .select('terms')
      .forUpdate()
      .executeTakeFirstOrThrow();
    // What may no longer be passed on is not offered any longer either.
    if (before.terms.phrases !== terms.phrases) await seenAnew(tx, school);
    await tx
      .updateTable('school')
      .set({ terms: JSON.stringify(terms) })
      .where('id', '=', school)
      .execute();
    if (!terms.sound)
      await tx
        .updateTable('sound')
        .set({ dropped: 'the school keeps no sound' })
        .where('school', '=', school)
        .where('kept', 'is', null)
        .where('dropped', 'is', null)
        .execute();
  });
}

/** What was done to the school, by whom. */
export async function note(
  { sql: db }: Database,
  clock: Clock,
  school: string,
  by: string,
  kind: string,
  of: string,
): Promise<void> {
  await db
    .insertInto('deed')
    .values({ school, id: clock.id(), at: clock.now(), by, kind, of })
    .execute();
}
