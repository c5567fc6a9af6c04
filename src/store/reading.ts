import { EventFormat, type Event } from '#shared/event';
import { readAs } from '#shared/format';
import type { Unreadable } from './contract.ts';
import { inOrder } from './chain.ts';
import type { Row } from './shelf.ts';

/** Rows in the order of the log, read through the format; what cannot be read is set apart. */
export function readRows(rows: readonly Row[]): {
  readonly events: readonly Event[];
  readonly unreadable: readonly Unreadable[];
} {
  const events: Event[] = [];
  const unreadable: Unreadable[] = [];
  for (const row of inOrder(rows)) {
    const read = readText(row.text);
    if (read.ok) events.push(read.value);
    else unreadable.push({ id: row.id, walk: row.walk, device: row.device, error: read.error });
  }
  return { events, unreadable };
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
