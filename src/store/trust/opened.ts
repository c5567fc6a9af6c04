import { EventFormat, type Event } from '#shared/event';
import { readAs } from '#shared/format';
import { inOrder, VERSION_AT as AT } from '../chain.ts';
import { textIn, type Held } from './held.ts';
import type { Judged, Version } from './judge.ts';
import type { Sentences } from './sentences.ts';

/** A walk as it is shown: what counts, what stands beside it, and what may be said of both. */
export interface WalkTrust {
  /** What the sheet counts, in the order of the log. */
  readonly counts: readonly Event[];
  /** What was written after the end and bears on nothing counted, such as the last piece of sound. */
  readonly after: readonly Event[];
  /** Reviews and amendments that hold: beside the walk, never in its coverage. */
  readonly beside: readonly Event[];
  readonly besideLines: readonly string[];
  /** Devices that wrote something with this walk's id and do not belong to it, and how many events. */
  readonly strangers: readonly { readonly device: string; readonly events: number }[];
  readonly verdict: Sentences;
  /** Other versions of this walk, by their names. */
  readonly versions: readonly { readonly name: string; readonly text: string }[];
}

export function versionName(walk: string, version: Version): string {
  return `${walk}${AT}${version.mark}`;
}

/** The walk that a name means, and the mark of the version where it has one. */
export function namedWalk(name: string): { readonly walk: string; readonly mark: string | null } {
  const at = name.lastIndexOf(AT);
  return at < 0
    ? { walk: name, mark: null }
    : { walk: name.slice(0, at), mark: name.slice(at + AT.length) };
}

/** The version that a mark means; the first one without a mark. Null when there is none. */
export function versionOf(judged: Judged, mark: string | null): Version | null {
  if (mark === null) return judged.version;
  return [judged.version, ...judged.others].find((v) => v?.mark === mark) ?? null;
}

/** Events that this version can read, in the order of the log. */
export function readHeld(events: readonly Held[]): readonly Event[] {
  return readable(inOrder(events));
}

/** What counts of a version, in the order of the walk. */
export function readCounts(version: Version | null): readonly Event[] {
  if (version === null) return [];
  const { counts, guests } = version;
  return readable(guests.size === 0 ? inOrder(counts) : withGuests(counts, version));
}

/**
 * Devices do not agree about the time, and what comes later amends (R6): what a
 * device says that was let in comes after the event that let it in, whatever
 * its clock says. From there on the ids tell, so the clocks.
 */
function withGuests(counts: readonly Held[], { device, guests }: Version): readonly Held[] {
  const waiting = new Map([...guests.keys()].map((g) => [g, counts.filter((e) => e.device === g)]));
  const open: Held[][] = [];
  const out: Held[] = [];
  /** Emits what was said before an event, the earliest first. */
  const until = (id: string | null) => {
    for (;;) {
      const [first] = open
        .filter(([e]) => e !== undefined && (id === null || e.id < id))
        .sort(([a], [b]) => ((a?.id ?? '') < (b?.id ?? '') ? -1 : 1));
      const next = first?.shift();
      if (next === undefined) return;
      out.push(next);
    }
  };
  for (const e of inOrder(counts.filter((c) => c.device === device))) {
    until(e.id);
    out.push(e);
    const guest = e.kind === 'let-in' ? (textIn(e, 'device') ?? '') : '';
    const theirs = waiting.get(guest);
    if (theirs !== undefined) open.push(theirs);
    waiting.delete(guest);
  }
  until(null);
  return out;
}

function readable(events: readonly Held[]): readonly Event[] {
  return events.flatMap((e) => {
    const read = readAs(EventFormat, e.raw);
    return read.ok ? [read.value] : [];
  });
}
