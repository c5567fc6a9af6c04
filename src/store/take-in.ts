import type { Event } from '#shared/event';
import { canonical } from './canonical.ts';
import { linkOf, type Raw } from './chain.ts';
import { hashFits } from './verify.ts';
import type { Merged } from './merge.ts';
import { readRows } from './reading.ts';
import type { Row, Shelf } from './shelf.ts';

type Refusal = Merged['refused'][number];

/**
 * Takes events of other devices onto the shelf. Each is looked at by itself:
 * one that does not verify is refused and named, the rest is kept.
 */
export async function takeIn(
  shelf: Shelf,
  device: string,
  events: readonly unknown[],
): Promise<{ readonly merged: Merged; readonly news: readonly Event[] }> {
  const refused: Refusal[] = [];
  const fresh = new Map<string, Row>();
  const here = new Map((await shelf.rows()).map((row) => [row.id, row]));
  let known = 0;
  events.forEach((raw, index) => {
    const row = rowOfRaw(raw);
    if (typeof row === 'string') {
      refused.push({ event: idOf(raw) ?? `number ${index + 1}`, why: row });
      return;
    }
    const there = here.get(row.id) ?? fresh.get(row.id);
    if (there?.text === row.text) known += 1;
    else if (there !== undefined)
      refused.push({
        event: row.id,
        why: 'Another event with this id is in the log already. The one that was here is kept.',
      });
    else if (row.device === device)
      refused.push({
        event: row.id,
        why: 'It claims to come from this device, which has not written it.',
      });
    else fresh.set(row.id, row);
  });
  const rows = [...fresh.values()];
  await shelf.take(rows);
  return {
    merged: { added: rows.length, known, refused },
    news: readRows(rows).events,
  };
}

function idOf(raw: unknown): string | null {
  return linkOf(raw)?.id ?? null;
}

/** The row of an event as written, or one sentence that says why it is refused. */
function rowOfRaw(raw: unknown): Row | string {
  const link = linkOf(raw);
  if (link === null) return 'It is not an event: the fields of the chain are missing.';
  if (!hashFits(raw as Raw, link.hash))
    return 'It was changed after it was written: its hash does not match.';
  return { ...link, text: canonical(raw) };
}
