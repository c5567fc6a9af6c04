import type { Kysely, Transaction } from 'kysely';
import type { Blobs } from './blobs.ts';
import type { Database } from './database.ts';
import type { Tables } from './tables.ts';

/** Deleted in one go at most. */
const AT_ONCE = 500;

/** Of these bytes, those that no row keeps: two devices may have kept the same. */
export async function keptByNobody(
  db: Kysely<Tables> | Transaction<Tables>,
  school: string,
  hashes: readonly string[],
): Promise<readonly string[]> {
  if (hashes.length === 0) return [];
  const still = await db
    .selectFrom('sound')
    .where('school', '=', school)
    .where('hash', 'in', hashes)
    .where('kept', 'is not', null)
    .select('hash')
    .execute();
  const needed = new Set(still.map((row) => row.hash));
  return hashes.filter((hash) => !needed.has(hash));
}

/** Written with the rows that say so, so that it is done however often it is tried. */
export async function toDelete(
  tx: Kysely<Tables> | Transaction<Tables>,
  school: string,
  hashes: readonly string[],
): Promise<void> {
  if (hashes.length === 0) return;
  await tx
    .insertInto('unkept')
    .values(hashes.map((hash) => ({ school, hash })))
    .onConflict((c) => c.doNothing())
    .execute();
}

/**
 * Deletes where bytes lie what was erased. A store that is away is tried again with
 * the next deletion and each hour, until it is done.
 *
 * @param only this school; left out: all of them
 * @returns how many wait still
 */
export async function deleteUnkept(
  { sql: db }: Database,
  blobs: Blobs,
  only?: string,
): Promise<number> {
  const rows = await db
    .selectFrom('unkept')
    .$if(only !== undefined, (q) => q.where('school', '=', only ?? ''))
    .select(['school', 'hash'])
    .limit(AT_ONCE)
    .execute();
  let left = rows.length;
  for (const { school, hash } of rows) {
    // It may have come again, by another recording that is kept.
    const [gone] = await keptByNobody(db, school, [hash]);
    try {
      if (gone !== undefined) await blobs.remove(school, gone);
    } catch {
      return left;
    }
    await db.deleteFrom('unkept').where('school', '=', school).where('hash', '=', hash).execute();
    left -= 1;
  }
  return left;
}
