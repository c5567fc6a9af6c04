import type { Event } from '#shared/event';
import type { WalkSummary } from './contract.ts';
import { readRows } from './reading.ts';
import type { Shelf } from './shelf.ts';

/** Kinds that say how far a walk has come; read for every walk, so few. */
const TELLING = ['walk-begun', 'finished', 'decided', 'signed', 'sealed'] as const;

/** The list of walks, latest first, without reading what was said on them. */
export async function summaries(shelf: Shelf, device: string): Promise<readonly WalkSummary[]> {
  const lists = await Promise.all(
    TELLING.map((kind) => shelf.rows({ index: 'kind', value: kind })),
  );
  const byWalk = new Map<string, Event[]>();
  for (const event of readRows(lists.flat()).events) {
    if (event.walk === null) continue;
    const list = byWalk.get(event.walk);
    if (list === undefined) byWalk.set(event.walk, [event]);
    else list.push(event);
  }
  const all = await Promise.all(
    [...byWalk].map(([walk, events]) => summaryOf(shelf, device, walk, events)),
  );
  return all
    .filter((summary) => summary !== null)
    .sort((a, b) => b.begun - a.begun || (a.walk < b.walk ? 1 : -1));
}

async function summaryOf(
  shelf: Shelf,
  device: string,
  walk: string,
  events: readonly Event[],
): Promise<WalkSummary | null> {
  const begun = events.find((e) => e.what.kind === 'walk-begun');
  if (begun?.what.kind !== 'walk-begun') return null;
  const [count, latest] = await Promise.all([
    shelf.count('walk', walk),
    shelf.latest('walk', walk),
  ]);
  const last = latest === undefined ? undefined : readRows([latest]).events[0];
  let decision: WalkSummary['decision'] = null;
  let signed: string | null = null;
  for (const { what } of events) {
    if (what.kind === 'decided') decision = what.decision;
    if (what.kind === 'signed') signed = what.name;
  }
  return {
    walk,
    aircraft: begun.what.aircraft,
    catalogue: begun.what.catalogue,
    edition: begun.what.edition,
    pilot: begun.what.pilot,
    instructor: begun.what.instructor,
    begun: begun.at,
    last: last?.at ?? begun.at,
    events: count,
    finished: events.some((e) => e.what.kind === 'finished'),
    decision,
    signed,
    sealed: events.some((e) => e.what.kind === 'sealed'),
    own: begun.device === device,
  };
}
