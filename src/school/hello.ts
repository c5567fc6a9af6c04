import { sql } from 'kysely';
import type { Hello } from '#shared/school';
import { aircraftOf } from './aircraft.ts';
import { editions } from './catalogues.ts';
import type { Clock } from './clock.ts';
import type { Database } from './database.ts';
import { phrasesMark } from './phrases.ts';
import type { Caller } from './roles.ts';

/** How things stand with a device; keeps which editions it says it has. */
export async function hello(
  database: Database,
  clock: Clock,
  caller: Caller,
  has: readonly string[],
): Promise<Hello> {
  const { sql: db } = database;
  const school = await db
    .selectFrom('school')
    .where('id', '=', caller.school)
    .select(['id', 'name', 'terms'])
    .executeTakeFirstOrThrow();
  const device = await db
    .updateTable('device')
    .set({ seen: clock.now(), editions: JSON.stringify(has) })
    .where('school', '=', caller.school)
    .where('id', '=', caller.device)
    .returning(['head', 'until'])
    .executeTakeFirstOrThrow();
  const lacks = await sql<{ edition: string }>`
    select distinct w.edition from walk w where w.school = ${caller.school}
      and w.device = ${caller.device} and not exists (
        select 1 from catalogue c where c.school = w.school and c.edition = w.edition)`.execute(db);
  const pilots = await db
    .selectFrom('person')
    .where('school', '=', caller.school)
    .where('gone', 'is', null)
    .where(sql<boolean>`roles && array['pilot', 'instructor']`)
    .select('name')
    .orderBy('name')
    .execute();
  return {
    school: school.id,
    name: school.name,
    now: clock.now(),
    person:
      caller.person === null
        ? null
        : { id: caller.person, name: caller.personName ?? caller.person },
    roles: [...caller.roles],
    terms: school.terms,
    head: device.head,
    until: device.until,
    editions: [...(await editions(database, caller.school))],
    lacks: lacks.rows.map((row) => row.edition),
    pilots: pilots.map((row) => row.name),
    aircraft: [...(await aircraftOf(db, caller.school))],
    phrases: await phrasesMark(database, caller.school),
  };
}
