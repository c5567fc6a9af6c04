import { sql, type Kysely, type Transaction } from 'kysely';
import type { SchoolAircraft } from '#shared/school-people';
import type { Clock } from './clock.ts';
import type { Database } from './database.ts';
import { Refused } from './refused.ts';
import type { Tables } from './tables.ts';

/** What two ways of writing one name share: its letters and digits; of a name without any, the name. */
export function keyOfName(name: string): string {
  const plain = name.replace(/[^\p{L}\p{N}]/gu, '').toLowerCase();
  return plain === '' ? name.trim().toLowerCase() : plain;
}

/** The list, by name; with those that are retired, because their record stays. */
export async function aircraftOf(
  db: Kysely<Tables>,
  school: string,
): Promise<readonly SchoolAircraft[]> {
  const [rows, was] = await Promise.all([
    db
      .selectFrom('aircraft')
      .where('school', '=', school)
      .select(['id', 'name', 'catalogue', 'retired'])
      .orderBy('name')
      .execute(),
    db
      .selectFrom('aircraft_was')
      .where('school', '=', school)
      .select(['aircraft', 'name'])
      .orderBy('until')
      .execute(),
  ]);
  return rows.map(({ retired, ...row }) => ({
    ...row,
    was: was.filter((w) => w.aircraft === row.id).map((w) => w.name),
    retired: retired !== null,
  }));
}

/** One change of the list at a time, so that two chiefs do not give one name twice. */
function alone<T>(
  { sql: db }: Database,
  school: string,
  work: (tx: Transaction<Tables>) => Promise<T>,
): Promise<T> {
  return db.transaction().execute(async (tx) => {
    await tx.selectFrom('school').where('id', '=', school).select('id').forUpdate().execute();
    return work(tx);
  });
}

/** Adds an aircraft with the catalogue that it is walked with. @returns its id */
export async function addAircraft(
  database: Database,
  clock: Clock,
  school: string,
  given: { readonly name: string; readonly catalogue: string },
): Promise<string> {
  const id = clock.id();
  await alone(database, school, async (tx) => {
    const { name, key } = await freeName(tx, school, given.name, null);
    await isCurrent(tx, school, given.catalogue);
    await tx
      .insertInto('aircraft')
      .values({
        school,
        id,
        name,
        key,
        catalogue: given.catalogue,
        added: clock.now(),
        retired: null,
      })
      .execute();
  });
  return id;
}

export interface AircraftChange {
  readonly name?: string | undefined;
  readonly catalogue?: string | undefined;
  readonly retired?: boolean | undefined;
}

/** Renames an aircraft, gives it another catalogue, retires it or brings it back. Nothing that was said of it changes. */
export async function changeAircraft(
  database: Database,
  clock: Clock,
  school: string,
  id: string,
  change: AircraftChange,
): Promise<void> {
  await alone(database, school, async (tx) => {
    const row = await tx
      .selectFrom('aircraft')
      .where('school', '=', school)
      .where('id', '=', id)
      .select(['name', 'key'])
      .executeTakeFirst();
    if (row === undefined) throw new Refused(404, 'There is no such aircraft.');
    const named = change.name === undefined ? null : await freeName(tx, school, change.name, id);
    if (change.catalogue !== undefined) await isCurrent(tx, school, change.catalogue);
    if (named !== null && named.key !== row.key) {
      await tx
        .insertInto('aircraft_was')
        .values({ school, key: row.key, name: row.name, aircraft: id, until: clock.now() })
        .onConflict((c) => c.columns(['school', 'key']).doUpdateSet({ until: clock.now() }))
        .execute();
      // Its old name is its name again.
      await tx
        .deleteFrom('aircraft_was')
        .where('school', '=', school)
        .where('key', '=', named.key)
        .execute();
    }
    const set = {
      ...(named ?? {}),
      ...(change.catalogue === undefined ? {} : { catalogue: change.catalogue }),
      ...(change.retired === undefined ? {} : { retired: change.retired ? clock.now() : null }),
    };
    if (Object.keys(set).length > 0)
      await tx
        .updateTable('aircraft')
        .set(set)
        .where('school', '=', school)
        .where('id', '=', id)
        .execute();
  });
}

/**
 * Throws `Refused` for a name that is another's, or was: squawks that were filed
 * under it would pass to an aircraft that never had them.
 */
async function freeName(
  tx: Transaction<Tables>,
  school: string,
  words: string,
  own: string | null,
): Promise<{ readonly name: string; readonly key: string }> {
  const name = words.replace(/\s+/g, ' ').trim();
  if (name === '') throw new Refused(400, 'An aircraft needs a name, such as its registration.');
  const key = keyOfName(name);
  const is = await tx
    .selectFrom('aircraft')
    .where('school', '=', school)
    .where('key', '=', key)
    .select(['id', 'name', 'retired'])
    .executeTakeFirst();
  if (is !== undefined && is.id !== own)
    throw new Refused(
      409,
      is.retired === null
        ? `The school has ${is.name} already.`
        : `${is.name} is retired: bring it back instead.`,
    );
  const was = await tx
    .selectFrom('aircraft_was as w')
    .innerJoin('aircraft as a', (join) =>
      join.onRef('a.school', '=', 'w.school').onRef('a.id', '=', 'w.aircraft'),
    )
    .where('w.school', '=', school)
    .where('w.key', '=', key)
    .select(['a.id', 'a.name'])
    .executeTakeFirst();
  if (was !== undefined && was.id !== own)
    throw new Refused(
      409,
      `${was.name} was called ${name} before, and what was filed under that name is its own: take another.`,
    );
  return { name, key };
}

async function isCurrent(tx: Transaction<Tables>, school: string, catalogue: string) {
  const row = await tx
    .selectFrom('catalogue')
    .where('school', '=', school)
    .where('catalogue', '=', catalogue)
    .where(sql<boolean>`current`)
    .select('edition')
    .executeTakeFirst();
  if (row === undefined)
    throw new Refused(
      409,
      'The school has not given this catalogue to its phones yet: give it under Catalogues first.',
    );
}
