import type { IDBPDatabase } from 'idb';
import { DIGEST_VERSION, withRow, type Digest } from './digest.ts';
import type { Base } from './shelf-idb.ts';

/** Rows that are read at a time: 2 MB, so that a phone reads a long log in pieces. */
const ROWS_AT_ONCE = 2000;
/** Under which derived value it is kept how far the digests go. */
const UP_TO: [string, string] = ['digests', 'up to'];

interface UpTo {
  readonly version: number;
  /** Key of the last row that they hold: rows are only ever added behind it. */
  readonly key: number;
}

/**
 * All digests, after what arrived since the last time was added to them. Both
 * are one transaction: two tabs that open at once do it one after the other, and
 * a crash leaves the digests as they were.
 */
export async function digestsIn(db: IDBPDatabase<Base>): Promise<readonly Digest[]> {
  for (;;) {
    const tx = db.transaction(['events', 'digests', 'derived'], 'readonly');
    const newest = await tx.objectStore('events').openKeyCursor(null, 'prev');
    const upTo = upToFrom(await tx.objectStore('derived').get(UP_TO));
    if ((newest?.primaryKey ?? 0) <= upTo.key)
      return (await tx.objectStore('digests').getAll()).map(digestIn);
    await addSome(db);
  }
}

async function addSome(db: IDBPDatabase<Base>): Promise<void> {
  const tx = db.transaction(['events', 'digests', 'derived'], 'readwrite', {
    durability: 'relaxed',
  });
  tx.done.catch(() => undefined);
  const digests = tx.objectStore('digests');
  const derived = tx.objectStore('derived');
  const kept: unknown = await derived.get(UP_TO);
  const { key } = upToFrom(kept);
  // Of another version, or thrown away: from the beginning.
  if (key === 0) await digests.clear();
  const range = IDBKeyRange.lowerBound(key, true);
  const events = tx.objectStore('events');
  const [rows, keys] = await Promise.all([
    events.getAll(range, ROWS_AT_ONCE),
    events.getAllKeys(range, ROWS_AT_ONCE),
  ]);
  const walks = [...new Set(rows.flatMap((row) => (row.walk === null ? [] : [row.walk])))];
  const before = await Promise.all(walks.map((walk) => digests.get(walk)));
  const now = new Map(
    walks.map((walk, i) => {
      const text = before[i];
      return [walk, text === undefined ? undefined : digestIn(text)] as const;
    }),
  );
  for (const row of rows) {
    const next = withRow(row.walk === null ? undefined : now.get(row.walk), row);
    if (next !== null) now.set(next.walk, next);
  }
  for (const [walk, digest] of now)
    if (digest !== undefined) void digests.put(JSON.stringify(digest), walk).catch(() => undefined);
  const last = keys.at(-1);
  if (last !== undefined) {
    const upTo: UpTo = { version: DIGEST_VERSION, key: last };
    void derived.put(upTo, UP_TO).catch(() => undefined);
  }
  await tx.done;
}

/** Kept as text: thousands of texts come out of the database several times as fast as thousands of objects. */
function digestIn(text: string): Digest {
  return JSON.parse(text) as Digest;
}

function upToFrom(kept: unknown): UpTo {
  const nothing = { version: DIGEST_VERSION, key: 0 };
  if (typeof kept !== 'object' || kept === null) return nothing;
  const { version, key } = kept as Partial<UpTo>;
  return version === DIGEST_VERSION && typeof key === 'number' ? { version, key } : nothing;
}
