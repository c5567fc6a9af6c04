import { sql, type Transaction } from 'kysely';
import type { Event } from '#shared/event';
import { PICTURE_CHUNK } from '#shared/kept';
import type { SquawkStep } from '#shared/squawk';
import type { Database } from './database.ts';
import type { Caller } from './roles.ts';
import { maySee } from './sight.ts';
import type { Tables } from './tables.ts';

/** An event that counts, with its number in the school's log. */
export interface Numbered {
  readonly seq: number;
  readonly event: Event;
}

/** A picture that the log names: wanted, unless somebody had it erased. */
export async function namedPicture(
  tx: Transaction<Tables>,
  school: string,
  { seq, event }: Numbered,
): Promise<void> {
  const { what, walk, device } = event;
  if (what.kind !== 'picture-kept') return;
  const { picture, hash, mime, of } = what;
  const statement = of.kind === 'finding' ? of.statement : null;
  const squawk = of.kind === 'squawk' ? of.squawk : await squawkOf(tx, school, walk, of.statement);
  const gone = await tx
    .selectFrom('sound')
    .where('school', '=', school)
    .where('recording', '=', picture)
    .where('dropped', '=', 'erased')
    .select('hash')
    .executeTakeFirst();
  const put = await tx
    .insertInto('sound')
    .values({
      school,
      recording: picture,
      chunk: PICTURE_CHUNK,
      hash,
      device,
      walk,
      mime,
      kept: null,
      bytes: null,
      dropped: gone === undefined ? null : 'erased',
      picture: true,
      statement,
      squawk,
      named: seq,
    })
    .onConflict((c) => c.doNothing())
    .returning('recording')
    .execute();
  if (put.length > 0 && squawk !== null) await show(tx, school, seq, [seq]);
}

async function squawkOf(
  tx: Transaction<Tables>,
  school: string,
  walk: string | null,
  statement: string,
): Promise<string | null> {
  const row = await tx
    .selectFrom('picture_squawk')
    .where('school', '=', school)
    .where('walk', '=', walk)
    .where('statement', '=', statement)
    .select('squawk')
    .executeTakeFirst();
  return row?.squawk ?? null;
}

/**
 * A squawk that says which statement it came from shows the pictures of it, those of
 * the same walk: nobody makes a picture of somebody else's walk everybody's.
 */
export async function showWith(
  tx: Transaction<Tables>,
  school: string,
  { seq, event }: Numbered,
): Promise<void> {
  const { what, walk } = event;
  if (what.kind !== 'squawk') return;
  await settle(tx, school, what.squawk, what.step);
  if (walk === null || !('statement' in what.step)) return;
  const { statement } = what.step;
  if (statement === null) return;
  const { squawk } = what;
  await tx
    .insertInto('picture_squawk')
    .values({ school, walk, statement, squawk })
    .onConflict((c) => c.doNothing())
    .execute();
  const rows = await tx
    .updateTable('sound')
    .set({ squawk })
    .where('school', '=', school)
    .where('walk', '=', walk)
    .where('statement', '=', statement)
    .where('picture', '=', true)
    .where('squawk', 'is', null)
    .returning(['named', 'dropped'])
    .execute();
  const shown = rows.flatMap((row) =>
    row.named === null || row.dropped === 'erased' ? [] : [row.named],
  );
  await show(tx, school, seq, shown);
}

/** Whether a squawk is settled: from then on its pictures are no more than any other. */
async function settle(
  tx: Transaction<Tables>,
  school: string,
  squawk: string,
  step: SquawkStep,
): Promise<void> {
  if (SETTLES.has(step.step) || (step.step === 'rechecked' && step.outcome === 'gone'))
    await tx
      .insertInto('squawk_settled')
      .values({ school, squawk })
      .onConflict((c) => c.doNothing())
      .execute();
  else if (step.step === 'rechecked')
    await tx
      .deleteFrom('squawk_settled')
      .where('school', '=', school)
      .where('squawk', '=', squawk)
      .execute();
}

const SETTLES: ReadonlySet<string> = new Set(['rectified', 'withdrawn', 'closed', 'joined']);

/** That a picture was erased is told to whoever was shown it. */
export async function tellErased(
  tx: Transaction<Tables>,
  school: string,
  { seq, event }: Numbered,
): Promise<void> {
  const { what } = event;
  if (what.kind !== 'picture-erased') return;
  const row = await tx
    .selectFrom('sound')
    .where('school', '=', school)
    .where('recording', '=', what.picture)
    .where('squawk', 'is not', null)
    .select('squawk')
    .executeTakeFirst();
  if (row !== undefined) await show(tx, school, seq, [seq]);
}

async function show(
  tx: Transaction<Tables>,
  school: string,
  seq: number,
  events: readonly number[],
): Promise<void> {
  if (events.length === 0) return;
  await tx
    .insertInto('picture_shown')
    .values(events.map((event) => ({ school, seq, event })))
    .onConflict((c) => c.doNothing())
    .execute();
}

/** Which of these pictures are here and may be seen: a phone asks for no others. */
export async function picturesHere(
  { sql: db }: Database,
  caller: Caller,
  hashes: readonly string[],
): Promise<readonly string[]> {
  if (hashes.length === 0) return [];
  const { rows } = await sql<{ hash: string }>`
    select distinct s.hash from sound s
    left join walk w on w.school = s.school and w.id = s.walk
    where s.school = ${caller.school} and s.picture and s.kept is not null and s.dropped is null
      and s.hash in (${sql.join(hashes)}) and ${maySeePicture(caller)}`.execute(db);
  return rows.map((row) => row.hash);
}

/**
 * Whether who asks may see the picture `s` of the walk `w`: who may open the walk,
 * and everybody when a squawk shows it, as everybody has the squawk.
 */
export function maySeePicture(caller: Caller) {
  return sql<boolean>`coalesce(s.device = ${caller.device} or s.squawk is not null
    or ${maySee(caller)}, false)`;
}
