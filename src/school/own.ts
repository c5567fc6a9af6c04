import type { Transaction } from 'kysely';
import type { Happening } from '#shared/event';
import { chain } from '#store/pure';
import { applyRows } from './apply.ts';
import type { Clock } from './clock.ts';
import type { Database } from './database.ts';
import type { Tables } from './tables.ts';

/** What the school itself writes into the log, chained like every device's. */
export interface OwnWord {
  readonly walk: string | null;
  readonly aircraft: string | null;
  readonly what: Extract<Happening, { kind: 'sound-erased' | 'picture-erased' }>;
}

/** @returns hashes of bytes that are to be deleted */
async function write(
  tx: Transaction<Tables>,
  clock: Clock,
  school: string,
  words: readonly OwnWord[],
): Promise<readonly string[]> {
  const row = await tx
    .selectFrom('school')
    .where('id', '=', school)
    .select(['seq', 'device', 'head'])
    .forUpdate()
    .executeTakeFirstOrThrow();
  const drafts = words.map((word) => ({
    v: 1 as const,
    id: clock.id(),
    at: clock.now(),
    t: null,
    ...word,
  }));
  const rows = chain(drafts, row.device, row.head).map(({ event, text }, i) => ({
    school,
    seq: row.seq + i + 1,
    hash: event.hash,
    id: event.id,
    device: event.device,
    walk: event.walk,
    within: null,
    aircraft: event.aircraft,
    kind: event.what.kind,
    prev: event.prev,
    text,
    arrived: clock.now(),
    aside: null,
  }));
  await tx.insertInto('event').values(rows).execute();
  await tx
    .updateTable('school')
    .set({ seq: row.seq + rows.length, head: rows.at(-1)?.hash ?? row.head })
    .where('id', '=', school)
    .execute();
  return applyRows(tx, school, rows);
}

/** A day, milliseconds. */
const DAY = 86_400_000;
/** Recordings erased in one transaction. */
const AT_ONCE = 200;

/** What was erased, and the hashes of the bytes that are to be deleted. */
export interface Erased {
  readonly recordings: number;
  readonly pictures: number;
  readonly drop: readonly string[];
}

/**
 * Erases recordings and pictures on the server and, because the school writes it
 * into the log, on every device that has them.
 */
export async function eraseRecordings(
  { sql: db }: Database,
  clock: Clock,
  school: string,
  which: { readonly person: string } | { readonly olderThan: number },
  why: string,
): Promise<Erased> {
  return db.transaction().execute(async (tx) => {
    const found = await tx
      .selectFrom('sound')
      .leftJoin('walk', (join) =>
        join.onRef('walk.school', '=', 'sound.school').onRef('walk.id', '=', 'sound.walk'),
      )
      .leftJoin('device', (join) =>
        join.onRef('device.school', '=', 'sound.school').onRef('device.id', '=', 'sound.device'),
      )
      .where('sound.school', '=', school)
      .where((e) => e.or([e('sound.dropped', 'is', null), e('sound.dropped', '!=', 'erased')]))
      .where((e) =>
        'person' in which
          ? e.or([
              e('walk.pilot_id', '=', which.person),
              e('walk.instructor_id', '=', which.person),
              // What was dictated or photographed outside a walk is of whoever holds the phone.
              e.and([e('sound.walk', 'is', null), e('device.person', '=', which.person)]),
            ])
          : e.and([
              e('sound.kept', '<', which.olderThan),
              // A picture stays for as long as its squawk is open, however old it is: the
              // next who looks for the crack needs to see it.
              e.or([
                e('sound.squawk', 'is', null),
                e.exists(
                  e
                    .selectFrom('squawk_settled as s')
                    .whereRef('s.school', '=', 'sound.school')
                    .whereRef('s.squawk', '=', 'sound.squawk')
                    .select('s.squawk'),
                ),
              ]),
            ]),
      )
      .select(['sound.recording', 'sound.picture', 'sound.walk', 'walk.aircraft'])
      .distinct()
      .limit(AT_ONCE)
      .execute();
    if (found.length === 0) return { recordings: 0, pictures: 0, drop: [] };
    const drop = await write(
      tx,
      clock,
      school,
      found.map(({ recording, picture, walk, aircraft }) => ({
        walk,
        aircraft,
        what: picture
          ? { kind: 'picture-erased', picture: recording, why }
          : { kind: 'sound-erased', recording, why },
      })),
    );
    const pictures = found.filter((row) => row.picture).length;
    return { recordings: found.length - pictures, pictures, drop };
  });
}

/** Erases what is older than the school's terms say, of every school. */
export async function eraseExpired(
  database: Database,
  clock: Clock,
): Promise<readonly { readonly school: string; readonly drop: readonly string[] }[]> {
  const schools = await database.sql.selectFrom('school').select(['id', 'terms']).execute();
  const done: { school: string; drop: readonly string[] }[] = [];
  for (const { id, terms } of schools) {
    if (terms.days === null) continue;
    const olderThan = clock.now() - terms.days * DAY;
    const why = `the school keeps sound and pictures for ${terms.days} days`;
    const { recordings, pictures, drop } = await eraseRecordings(
      database,
      clock,
      id,
      { olderThan },
      why,
    );
    if (recordings + pictures > 0) done.push({ school: id, drop });
  }
  return done;
}
