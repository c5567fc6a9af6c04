import { EventFormat, type Event, type HappeningKind } from '#shared/event';
import { readAs } from '#shared/format';
import type { Unreadable } from './contract.ts';
import { inOrder, linkOf, type Link } from './chain.ts';
import { ASIDE, type Row, type Shelf } from './shelf.ts';
import { held, type Held } from './trust/held.ts';

/** Rows in the order of the log, read through the format; what cannot be read is set apart. */
export function readRows(rows: readonly Row[]): {
  readonly events: readonly Event[];
  readonly unreadable: readonly Unreadable[];
} {
  const events: Event[] = [];
  const unreadable: Unreadable[] = [];
  // Of one that was set aside first and taken later, the one that was taken.
  const here = new Set(rows.filter((row) => !isAside(row)).map((row) => row.hash));
  const once = rows.filter((row) => !isAside(row) || !here.has(row.hash));
  const linked = once.map((row) => ({ ...linkIn(row), text: row.text }));
  for (const row of inOrder(linked)) {
    const read = readText(row.text);
    if (read.ok) events.push(read.value);
    else unreadable.push({ id: row.id, walk: row.walk, device: row.device, error: read.error });
  }
  return { events, unreadable };
}

/** Events of some kinds, in the order of the log. */
export async function eventsOf(
  shelf: Shelf,
  kinds: readonly HappeningKind[],
): Promise<readonly Event[]> {
  const rows = kinds.map((value) => shelf.rows({ index: 'kind', value }));
  return readRows((await Promise.all(rows)).flat()).events;
}

/** A row that counts nowhere: found under no id, walk, aircraft, kind or device of the log. */
export function asideRow(link: Link, text: string): Row {
  const apart = (value: string | null) => (value === null ? null : `${ASIDE}${value}`);
  return {
    id: `${ASIDE}${link.hash}`,
    device: `${ASIDE}${link.device}`,
    walk: apart(link.walk),
    aircraft: apart(link.aircraft),
    kind: `${ASIDE}${link.kind}`,
    prev: link.prev,
    hash: link.hash,
    text,
  };
}

export function isAside(row: Row): boolean {
  return row.id.startsWith(ASIDE);
}

/** The chain's own fields of a row, whichever way it is kept. */
export function linkIn(row: Row): Link {
  if (!isAside(row)) return row;
  const plain = (value: string) => value.slice(ASIDE.length);
  const raw = rawOf(row);
  return {
    id: linkOf(raw)?.id ?? plain(row.id),
    device: plain(row.device),
    walk: row.walk === null ? null : plain(row.walk),
    aircraft: row.aircraft === null ? null : plain(row.aircraft),
    kind: plain(row.kind),
    prev: row.prev,
    hash: row.hash,
  };
}

export function heldRow(row: Row): Held {
  const raw = () => {
    const read = rawOf(row);
    return typeof read === 'object' && read !== null ? { ...read } : {};
  };
  return held(linkIn(row), raw, isAside(row) ? 'aside' : 'here');
}

/** The event as written, before it is read through its format; the text itself when it is no JSON any more. */
export function rawOf(row: Row): unknown {
  try {
    return JSON.parse(row.text);
  } catch {
    return row.text;
  }
}

function readText(text: string) {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch {
    return { ok: false as const, error: 'This event is not JSON: the disk gave back other bytes.' };
  }
  return readAs(EventFormat, json);
}
