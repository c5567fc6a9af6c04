import type { Event } from '#shared/event';
import { canonical } from './canonical.ts';
import { linkOf, type Link, type Raw } from './chain.ts';
import type { Merged } from './merge.ts';
import { rawOf, readRows } from './reading.ts';
import type { Row, Shelf } from './shelf.ts';
import { hashFits, verifyEvents } from './verify.ts';

type Refusal = Merged['refused'][number];

export interface TakeInOptions {
  /**
   * Take the events that hold of a walk that does not. Left out: a walk is
   * taken whole or not at all, because what is left of it may say the opposite
   * of what was said.
   */
  readonly salvage?: boolean;
  /** Walks of which an event could not be read at all, and the name of that event. */
  readonly spoiled?: ReadonlyMap<string, string>;
}

interface Incoming extends Link {
  readonly raw: Raw;
}

/** Takes events of other devices onto the shelf, and names what it does not take. */
export async function takeIn(
  shelf: Shelf,
  device: string,
  events: readonly unknown[],
  options: TakeInOptions = {},
): Promise<{ readonly merged: Merged; readonly news: readonly Event[] }> {
  const here = await shelf.rows();
  const { fresh, known, refused, faulty } = sort(here, device, events);
  for (const [walk, event] of options.spoiled ?? []) if (!faulty.has(walk)) faulty.set(walk, event);

  // What is here already of those devices is a part of their chains.
  const devices = new Set(fresh.map((f) => f.device));
  const context = here.filter((row) => devices.has(row.device)).map(rawOf);
  const arriving = new Set(fresh.map((f) => f.id));
  const verdict = verifyEvents([...context, ...fresh.map((f) => f.raw)]);
  const broken = new Set<string>();
  for (const fault of verdict.faults) {
    if (!arriving.has(fault.event)) continue;
    // A hole that is left by an event refused above is that event's fault.
    if (fault.walk === null || !faulty.has(fault.walk))
      refused.push({ event: fault.event, why: fault.why });
    if (fault.walk !== null && !faulty.has(fault.walk)) faulty.set(fault.walk, fault.event);
    if (fault.kind !== 'missing') broken.add(fault.event);
  }

  const rows: Row[] = [];
  const left = new Map<string, number>();
  for (const { raw, ...link } of fresh) {
    const spoiled = link.walk !== null && faulty.has(link.walk);
    if (broken.has(link.id)) continue;
    if (!spoiled || options.salvage === true) rows.push({ ...link, text: canonical(raw) });
    else left.set(link.walk ?? '', (left.get(link.walk ?? '') ?? 0) + 1);
  }
  for (const [walk, count] of left)
    refused.push({
      event: `walk ${walk}`,
      why: `The walk was not taken (${count} ${count === 1 ? 'event' : 'events'}), because its event ${faulty.get(walk) ?? ''} does not hold.`,
    });
  await shelf.take(rows);
  await eraseToo(shelf, device, rows);
  return { merged: { added: rows.length, known, refused }, news: readRows(rows).events };
}

/**
 * Who asked for the sound of a person to be erased asked it of every device: an
 * erasure that holds erases here too. A stranger's file cannot name a recording:
 * its id is known only to who was given it.
 */
async function eraseToo(shelf: Shelf, device: string, rows: readonly Row[]): Promise<void> {
  const erased = readRows(rows.filter((row) => row.kind === 'sound-erased')).events;
  const erase = erased.flatMap(({ what }) =>
    what.kind === 'sound-erased' ? [what.recording] : [],
  );
  if (erase.length > 0) await shelf.write(device, () => ({ rows: [], erase }));
}

/** Looks at each event by itself. */
function sort(here: readonly Row[], device: string, events: readonly unknown[]) {
  const texts = new Map(here.map((row) => [row.id, row.text]));
  const fresh: Incoming[] = [];
  const refused: Refusal[] = [];
  /** Walks with a fault, and the event that has it. */
  const faulty = new Map<string, string>();
  let known = 0;
  events.forEach((raw, index) => {
    const link = linkOf(raw);
    const refuse = (why: string) => {
      const event = link?.id ?? `number ${index + 1}`;
      refused.push({ event, why });
      const walk = link?.walk ?? null;
      if (walk !== null && !faulty.has(walk)) faulty.set(walk, event);
    };
    if (link === null) return refuse('It is not an event: the fields of the chain are missing.');
    if (!hashFits(raw as Raw, link.hash))
      return refuse('It was changed after it was written: its hash does not match.');
    const text = canonical(raw);
    const there = texts.get(link.id);
    if (there === text) known += 1;
    else if (there !== undefined)
      refuse('Another event with this id is in the log already. The one that was here is kept.');
    else if (link.device === device)
      refuse('It claims to come from this device, which has not written it.');
    else {
      texts.set(link.id, text);
      fresh.push({ ...link, raw: raw as Raw });
    }
  });
  return { fresh, known, refused, faulty };
}
