import { sql } from 'kysely';
import type { FeedPage } from '#shared/school';
import { cursorIn } from './cursor.ts';
import type { Database } from './database.ts';
import type { Caller } from './roles.ts';
import { maySee } from './sight.ts';

/** Events of one page, and bytes after which it ends: a phone holds it in memory. */
const PAGE = 500;
const PAGE_BYTES = 2 * 1024 * 1024;

/**
 * What concerns a device, in the order in which the school took it in: the walks
 * that who asks may open, every squawk and its pictures, and nothing that the device
 * wrote itself.
 *
 * @param after the cursor of the page before; null or of another time: from the beginning
 */
export async function feed(
  { sql: db }: Database,
  caller: Caller,
  after: string | null,
): Promise<FeedPage> {
  const school = await db
    .selectFrom('school')
    .where('id', '=', caller.school)
    .select(['epoch', 'seq'])
    .executeTakeFirstOrThrow();
  const from = cursorIn(after, school.epoch);
  // A log that is shorter than the cursor was restored from an older backup.
  const seq = from > school.seq ? 0 : from;
  const { rows } = await sql<Line & { kind: string }>`
    select e.seq, e.text, e.kind, (e.walk is not null and not coalesce(${maySee(caller)}, false)) as loose
    from event e
    left join walk w on w.school = e.school and w.id = coalesce(e.walk, e.within)
    where e.school = ${caller.school} and e.seq > ${seq} and e.seq <= ${school.seq}
      and e.aside is null and e.device <> ${caller.device}
      and (${maySee(caller)} or e.kind = 'squawk' or (e.kind = 'sound-erased' and e.walk is null)
        or (e.kind in ('picture-kept', 'picture-erased') and exists (select 1 from picture_shown p
          where p.school = e.school and p.seq = e.seq and p.event = e.seq)))
    order by e.seq limit ${PAGE}`.execute(db);
  const events: FeedPage['events'] = [];
  let bytes = 0;
  let last = seq;
  const shown = await shownWith(db, caller, rows);
  let read = 0;
  for (const { seq: at, text, loose } of rows) {
    if (events.length > 0 && bytes + text.length > PAGE_BYTES) break;
    events.push({ text, loose });
    for (const more of shown) if (more.seq === at) events.push({ text: more.text, loose: true });
    bytes += text.length;
    read += 1;
    last = at;
  }
  const whole = read === rows.length && rows.length < PAGE;
  return { events, cursor: `${school.epoch}.${whole ? school.seq : last}`, more: !whole };
}

interface Line {
  readonly seq: number;
  readonly text: string;
  readonly loose: boolean;
}

/** Pictures that were taken before the squawk that shows them, for whom the walk is not. */
async function shownWith(
  db: Database['sql'],
  caller: Caller,
  rows: readonly { readonly seq: number; readonly kind: string }[],
): Promise<readonly Pick<Line, 'seq' | 'text'>[]> {
  const squawks = rows.filter((row) => row.kind === 'squawk').map((row) => row.seq);
  if (squawks.length === 0) return [];
  const found = await sql<Pick<Line, 'seq' | 'text'>>`
    select p.seq, e.text from picture_shown p
    join event e on e.school = p.school and e.seq = p.event
    left join walk w on w.school = e.school and w.id = e.walk
    where p.school = ${caller.school} and p.seq in (${sql.join(squawks)}) and p.event <> p.seq
      and e.device <> ${caller.device} and not coalesce(${maySee(caller)}, false)
    order by p.seq, p.event`.execute(db);
  return found.rows;
}
