import { sql } from 'kysely';
import type { Invitation, Terms } from '#shared/school';
import { makeKey, toBase64Url } from '#store/pure';
import type { Clock } from './clock.ts';
import type { Database } from './database.ts';
import { invite } from './joining.ts';

/** What a new school keeps until its chief says otherwise: sound for a year, heard by who teaches; what was learned for who taught it. */
export const FIRST_TERMS: Terms = {
  sound: true,
  days: 365,
  hear: ['instructor'],
  phrases: 'own',
};

/**
 * Makes a school with its first chief.
 *
 * @param only where there is a school already, that one: several servers may begin at once
 * @returns its id
 */
export async function foundSchool(
  { sql: db }: Database,
  clock: Clock,
  name: string,
  chief: string,
  only = false,
): Promise<string> {
  const id = clock.id();
  // Not in WebCrypto: the key has to outlive the program, in the database.
  const key = await makeKey(undefined);
  const secret = key.kind === 'bytes' ? toBase64Url(key.secret) : '';
  return db.transaction().execute(async (tx) => {
    if (only) {
      await sql`lock table school in share row exclusive mode`.execute(tx);
      const there = await tx.selectFrom('school').select('id').orderBy('id').executeTakeFirst();
      if (there !== undefined) return there.id;
    }
    await tx
      .insertInto('school')
      .values({
        id,
        name,
        terms: JSON.stringify(FIRST_TERMS),
        device: clock.id(),
        public_key: key.publicKey,
        secret,
        head: null,
        made: clock.now(),
      })
      .execute();
    await tx
      .insertInto('person')
      .values({
        school: id,
        id: clock.id(),
        name: chief,
        roles: ['chief'],
        since: clock.now(),
        gone: null,
      })
      .execute();
    return id;
  });
}

/** The one school of a folder, or null. */
export async function onlySchool({ sql: db }: Database): Promise<string | null> {
  const row = await db.selectFrom('school').select('id').orderBy('id').executeTakeFirst();
  return row?.id ?? null;
}

/** A code for the chief while no device of a chief is in, so that nobody is shut out of their own school. */
export async function chiefsCode(
  database: Database,
  clock: Clock,
  school: string,
): Promise<Invitation | null> {
  const chiefs = await database.sql
    .selectFrom('person as p')
    .leftJoin('device as d', (join) =>
      join
        .onRef('d.school', '=', 'p.school')
        .onRef('d.person', '=', 'p.id')
        .on('d.shut', 'is', null)
        .on('d.desk', '=', false),
    )
    .where('p.school', '=', school)
    .where('p.gone', 'is', null)
    .where(sql<boolean>`'chief' = any(p.roles)`)
    .select(['p.id', 'd.id as device'])
    .orderBy('p.id')
    .execute();
  const [first] = chiefs;
  if (first === undefined || chiefs.some((c) => c.device !== null)) return null;
  return invite(database, clock, school, 'server', first.id);
}
