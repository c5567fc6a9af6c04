import type { Kysely } from 'kysely';
import { asideRow, linkOf, memoryShelf, type Link, type Row, type Shelf } from '#store/pure';
import type { EventRow, Tables } from './tables.ts';

/** What of the school's log has to be seen to judge what arrives. */
export interface Window {
  readonly shelf: Shelf;
  /** Rows that the judge takes, counted and aside, as they come. */
  readonly taken: Row[];
}

/**
 * A shelf for the same function that restores a backup on a device, over a part of
 * the log: the walks that events arrive for, and the chain of their device since
 * the first of these walks began. What it writes is collected, and written by
 * whoever asked.
 *
 * @param also rows that arrive with them and are aside already
 */
export function windowOn(rows: readonly EventRow[], also: readonly Row[]): Window {
  const here = [...rows.map(rowFrom), ...also];
  const taken: Row[] = [];
  return {
    taken,
    shelf: {
      ...memoryShelf(),
      rows: async () => here,
      async take(incoming) {
        taken.push(...incoming);
      },
      // What is erased, the list of events that count says: the judge does not know
      // what a role may not write, and would obey it.
      write: async () => undefined,
    },
  };
}

export function rowFrom(row: EventRow): Row {
  const { id, device, walk, aircraft, kind, prev, hash, text } = row;
  const link: Link = { id, device, walk, aircraft, kind, prev, hash };
  return row.aside === null ? { ...link, text } : asideRow(linkOf(JSON.parse(text)) ?? link, text);
}

/** Reads what lies around events of one device. */
export async function rowsAround(
  db: Kysely<Tables>,
  school: string,
  device: string,
  links: readonly Link[],
): Promise<readonly EventRow[]> {
  if (links.length === 0) return [];
  const walks = [...new Set(links.flatMap((l) => (l.walk === null ? [] : [l.walk])))];
  const ids = links.map((l) => l.id);
  const before = links.flatMap((l) => (l.prev === null ? [] : [l.prev]));
  const first = links.some((l) => l.prev === null);
  const began =
    walks.length === 0
      ? undefined
      : await db
          .selectFrom('event')
          .where('school', '=', school)
          .where('walk', 'in', walks)
          .where('device', '=', device)
          .where('kind', '=', 'walk-begun')
          .select((e) => e.fn.min('seq').as('seq'))
          .executeTakeFirst();
  return db
    .selectFrom('event')
    .where('school', '=', school)
    .where((e) =>
      e.or([
        e('id', 'in', ids),
        ...(walks.length === 0 ? [] : [e('walk', 'in', walks)]),
        ...(before.length === 0
          ? []
          : [e.and([e('device', '=', device), e('prev', 'in', before)]), e('hash', 'in', before)]),
        ...(first ? [e.and([e('device', '=', device), e('prev', 'is', null)])] : []),
        ...(typeof began?.seq !== 'number'
          ? []
          : [e.and([e('device', '=', device), e('seq', '>', began.seq)])]),
      ]),
    )
    .selectAll()
    .orderBy('seq')
    .execute();
}
