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
 * that who asks may open, every squawk, and nothing that the device wrote itself.
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
  const { rows } = await sql<{ seq: number; text: string; loose: boolean }>`
    select e.seq, e.text, (e.walk is not null and not coalesce(${maySee(caller)}, false)) as loose
    from event e
    left join walk w on w.school = e.school and w.id = coalesce(e.walk, e.within)
    where e.school = ${caller.school} and e.seq > ${seq} and e.seq <= ${school.seq}
      and e.aside is null and e.device <> ${caller.device}
      and (${maySee(caller)} or e.kind = 'squawk' or (e.kind = 'sound-erased' and e.walk is null))
    order by e.seq limit ${PAGE}`.execute(db);
  const events: FeedPage['events'] = [];
  let bytes = 0;
  let last = seq;
  for (const { seq: at, text, loose } of rows) {
    if (events.length > 0 && bytes + text.length > PAGE_BYTES) break;
    events.push({ text, loose });
    bytes += text.length;
    last = at;
  }
  const whole = events.length === rows.length && rows.length < PAGE;
  return { events, cursor: `${school.epoch}.${whole ? school.seq : last}`, more: !whole };
}
