import { EventFormat, type Decision, type Event } from '#shared/event';
import { readAs } from '#shared/format';
import type { Row } from './shelf.ts';

/**
 * What the list of walks needs of a walk, kept beside the log so that the list
 * need not read it. Derived: it is made from the rows, row by row in the order
 * in which they arrived, and can be made again from them at any time. Never
 * evidence: a sheet is always folded from the events themselves.
 */
export interface Digest {
  /** As rows are found by it, so with its mark in front where it was set aside. */
  readonly walk: string;
  readonly events: number;
  /** Hash of the row that arrived last: with `events`, which state of the walk this is. */
  readonly head: string;
  readonly last: number;
  readonly begun: {
    readonly event: string;
    readonly device: string;
    readonly at: number;
    readonly aircraft: string;
    readonly catalogue: string;
    readonly edition: string;
    readonly pilot: string | null;
    readonly instructor: string | null;
    readonly hours: number | null;
  } | null;
  readonly finished: boolean;
  readonly discarded: boolean;
  readonly decision: Decision | null;
  readonly signed: string | null;
  readonly sealed: boolean;
}

/** Grows when what is kept of a row grows or is read otherwise: kept digests of another version are made anew. */
export const DIGEST_VERSION = 2;

/** Kinds that say how far a walk has come. Of all others only the time is read. */
const TELLING: ReadonlySet<string> = new Set([
  'walk-begun',
  'finished',
  'discarded',
  'decided',
  'signed',
  'sealed',
]);

const NOTHING = {
  begun: null,
  finished: false,
  discarded: false,
  decision: null,
  signed: null,
  sealed: false,
} as const;

/** The digest with one more row; null stays null for a row that belongs to no walk. */
export function withRow(before: Digest | undefined, row: Row): Digest | null {
  if (row.walk === null) return null;
  const counted = {
    ...(before ?? NOTHING),
    walk: row.walk,
    events: (before?.events ?? 0) + 1,
    head: row.hash,
    last: timeIn(row.text) ?? before?.last ?? 0,
  };
  if (!TELLING.has(row.kind)) return counted;
  const event = readRow(row.text);
  return event === null ? counted : { ...counted, ...told(counted, event) };
}

function told(digest: Omit<Digest, 'walk'>, { what, ...event }: Event): Partial<Digest> {
  switch (what.kind) {
    case 'walk-begun':
      if (digest.begun !== null) return {};
      return {
        begun: {
          event: event.id,
          device: event.device,
          at: event.at,
          aircraft: what.aircraft,
          catalogue: what.catalogue,
          edition: what.edition,
          pilot: what.pilot,
          instructor: what.instructor,
          hours: what.hours,
        },
      };
    case 'finished':
      return { finished: true };
    case 'discarded':
      return { discarded: true };
    case 'decided':
      return { decision: what.decision };
    case 'signed':
      return { signed: what.name };
    case 'sealed':
      return { sealed: true };
    default:
      return {};
  }
}

/**
 * When it was written, without reading the rest: in RFC 8785 order the event's
 * own "at" comes before everything nested but the aircraft's name, which may
 * hold no quotation mark that is not escaped.
 */
function timeIn(text: string): number | null {
  const found =
    /^\{"aircraft":(?:null|"(?:[^"\\]|\\.)*"),"at":(-?\d+(?:\.\d+)?(?:e[+-]?\d+)?)[,}]/.exec(text);
  return found === null ? null : Number(found[1]);
}

function readRow(text: string): Event | null {
  try {
    const read = readAs(EventFormat, JSON.parse(text));
    return read.ok ? read.value : null;
  } catch {
    return null;
  }
}

/** A walk as `Digest`s are kept: those of rows, whatever order they are asked for in. */
export function digestsOf(rows: readonly Row[]): ReadonlyMap<string, Digest> {
  const all = new Map<string, Digest>();
  for (const row of rows) {
    const next = withRow(row.walk === null ? undefined : all.get(row.walk), row);
    if (next !== null) all.set(next.walk, next);
  }
  return all;
}
