import { sql } from 'kysely';
import type { DeskWalk, DeviceLine } from '#shared/school';
import type { Database } from './database.ts';
import { Refused } from './refused.ts';
import type { Caller } from './roles.ts';
import { maySee } from './sight.ts';

/** Walks on one page of the list. */
const PAGE = 50;
/** Refusals shown of a device. */
const REFUSALS = 5;

/**
 * Walks, the latest first, with not a word of them: all of the school for the
 * chief and maintenance (which aircraft was walked when), else those that who
 * asks may open.
 *
 * @param before cursor of the page before: "BEGUN.WALK"
 */
export async function deskWalks(
  { sql: db }: Database,
  caller: Caller,
  before: string | null,
): Promise<{ readonly walks: readonly DeskWalk[]; readonly cursor: string | null }> {
  const all = caller.roles.has('chief') || caller.roles.has('maintenance');
  const parts = before === null ? null : /^(\d{1,15})\.([\w-]{1,80})$/.exec(before);
  if (before !== null && parts === null) throw new Refused(400, 'This is no cursor of the list.');
  const begun = Number(parts?.[1] ?? 0);
  const rows = await db
    .selectFrom('walk as w')
    .where('w.school', '=', caller.school)
    .$if(!all, (q) => q.where(maySee(caller)))
    .$if(parts !== null, (q) =>
      q.where(sql<boolean>`(w.begun, w.id) < (${begun}::bigint, ${parts?.[2] ?? ''}::text)`),
    )
    .select([
      'w.id',
      'w.aircraft',
      'w.catalogue',
      'w.pilot',
      'w.instructor',
      'w.begun',
      'w.last',
      'w.events',
      'w.station',
      'w.finished',
      'w.signed',
      maySee(caller).as('open'),
    ])
    .orderBy('w.begun', 'desc')
    .orderBy('w.id', 'desc')
    .limit(PAGE + 1)
    .execute();
  const last = rows.length > PAGE ? rows[PAGE - 1] : undefined;
  return {
    walks: rows.slice(0, PAGE).map(({ finished, signed, open, ...row }) => ({
      ...row,
      open: open === true,
      state: signed ? 'signed' : finished ? 'finished' : 'walking',
    })),
    cursor: last === undefined ? null : `${last.begun}.${last.id}`,
  };
}

/** Every device: whose, when it was seen, which editions it has, and what was refused of it. */
export async function devices(
  { sql: db }: Database,
  school: string,
): Promise<readonly DeviceLine[]> {
  const [rows, refusals, editions] = await Promise.all([
    db
      .selectFrom('device as d')
      .leftJoin('person as p', (join) =>
        join.onRef('p.school', '=', 'd.school').onRef('p.id', '=', 'd.person'),
      )
      .where('d.school', '=', school)
      .select([
        'd.id',
        'd.name',
        'd.desk',
        'd.joined',
        'd.seen',
        'd.events',
        'd.shut',
        'd.editions',
        'p.name as person',
      ])
      .orderBy('d.name')
      .orderBy('d.id')
      .execute(),
    sql<{ device: string; at: number; why: string }>`
      select device, at, why from (
        select device, at, why, row_number() over (partition by device order by at desc) as n
        from refusal where school = ${school}) r where n <= ${REFUSALS} order by at desc`.execute(
      db,
    ),
    db
      .selectFrom('catalogue')
      .where('school', '=', school)
      .select(['edition', 'catalogue', 'name', 'number', 'current'])
      .execute(),
  ]);
  const current = editions.filter((e) => e.current);
  return rows.map((row) => ({
    device: row.id,
    name: row.name,
    person: row.person,
    desk: row.desk,
    joined: row.joined,
    seen: row.seen,
    events: row.events,
    shut: row.shut,
    editions: current.map((c) => {
      const has = editions
        .filter((e) => e.catalogue === c.catalogue && row.editions.includes(e.edition))
        .map((e) => e.number);
      return {
        catalogue: c.catalogue,
        name: c.name,
        has: has.length === 0 ? null : Math.max(...has),
        waiting: row.editions.includes(c.edition) ? null : c.number,
      };
    }),
    refused: refusals.rows.filter((r) => r.device === row.id).map(({ at, why }) => ({ at, why })),
  }));
}
