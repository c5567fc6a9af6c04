import { sql } from 'kysely';
import type { Edition } from '#shared/school';
import { canonical, editionOf, readFull, readJson, MAX_JSON_BYTES } from '#store/pure';
import type { Clock } from './clock.ts';
import type { Database } from './database.ts';
import { Refused } from './refused.ts';
import type { Caller } from './roles.ts';

export async function editions({ sql: db }: Database, school: string): Promise<readonly Edition[]> {
  return db
    .selectFrom('catalogue')
    .where('school', '=', school)
    .select(['edition', 'catalogue', 'name', 'number', 'current'])
    .orderBy('catalogue')
    .orderBy('number')
    .execute();
}

/**
 * Keeps an edition. The chief's becomes the one that walks are begun with; what a
 * device sends because it walked with it is only kept.
 */
export async function keepEdition(
  { sql: db }: Database,
  clock: Clock,
  caller: Caller,
  text: string,
  current: boolean,
): Promise<Edition> {
  const json = readJson(text, MAX_JSON_BYTES);
  if (!json.ok) throw new Refused(422, json.error);
  const read = readFull(json.value);
  if (!read.ok) throw new Refused(422, read.error);
  const catalogue = read.value;
  const edition = editionOf(catalogue);
  return db.transaction().execute(async (tx) => {
    const { school } = caller;
    await tx.selectFrom('school').where('id', '=', school).select('id').forUpdate().execute();
    const there = await tx
      .selectFrom('catalogue')
      .where('school', '=', school)
      .where('catalogue', '=', catalogue.id)
      .select(['edition', 'number', 'current'])
      .execute();
    const known = there.find((row) => row.edition === edition);
    const number = known?.number ?? Math.max(0, ...there.map((row) => row.number)) + 1;
    if (known === undefined)
      await tx
        .insertInto('catalogue')
        .values({
          school,
          edition,
          catalogue: catalogue.id,
          name: catalogue.name,
          number,
          text: canonical(catalogue),
          added: clock.now(),
          added_by: caller.device,
          current: false,
        })
        .execute();
    if (current) {
      await tx
        .updateTable('catalogue')
        .set({ current: sql<boolean>`edition = ${edition}` })
        .where('school', '=', school)
        .where('catalogue', '=', catalogue.id)
        .execute();
    }
    return {
      edition,
      catalogue: catalogue.id,
      name: catalogue.name,
      number,
      current: current || known?.current === true,
    };
  });
}

/** An edition as it is kept, JSON. */
export async function editionText(
  { sql: db }: Database,
  school: string,
  edition: string,
): Promise<string> {
  const row = await db
    .selectFrom('catalogue')
    .where('school', '=', school)
    .where('edition', '=', edition)
    .select('text')
    .executeTakeFirst();
  if (row === undefined) throw new Refused(404, 'The school has no such edition of a catalogue.');
  return row.text;
}
