import { hashFits, type Link, type Raw } from '../chain.ts';
import type { SealCovers } from '#shared/event';
import { SealCovers as Covers } from '#shared/event';

/** Where an event was found. here: on this device's record. aside: kept beside it, and counts nowhere. new: in a file. */
export type Place = 'here' | 'aside' | 'new';

/** An event to be judged. What was written is read only when it is asked for. */
export interface Held extends Link {
  readonly raw: Raw;
  readonly place: Place;
  /** It has the hash that it says. Worked out once. */
  readonly fits: boolean;
}

/** Kinds that are said beside a walk and never count in its coverage. */
export const BESIDE: ReadonlySet<string> = new Set(['reviewed', 'amendment']);

/**
 * Kinds that may follow the signature, because the coverage never depends on
 * them; a test holds this list against the reconciler. No seal covers them, which
 * is said where there are any. A step of a squawk is none of them: it decides
 * what is open on the aircraft, and whoever has a file can write one behind its end.
 */
export const QUIET: ReadonlySet<string> = new Set([
  'spoken',
  'replied',
  'listening-changed',
  'reader-changed',
  'sound-kept',
  'sound-missing',
  'sound-erased',
  'picture-erased',
  'brought-back',
  'sealed',
]);

export function held(link: Link, raw: () => Raw, place: Place): Held {
  let read: Raw | null = null;
  let fits: boolean | null = null;
  return {
    id: link.id,
    device: link.device,
    walk: link.walk,
    aircraft: link.aircraft,
    kind: link.kind,
    prev: link.prev,
    hash: link.hash,
    place,
    get raw() {
      read ??= raw();
      return read;
    },
    get fits() {
      fits ??= hashFits(this.raw, link.hash);
      return fits;
    },
  };
}

/** A field of what happened, when it is a text. */
export function textIn(event: Held, name: string): string | null {
  const what = event.raw['what'];
  if (typeof what !== 'object' || what === null) return null;
  const value: unknown = Reflect.get(what, name);
  return typeof value === 'string' ? value : null;
}

/** Device clock of the event, milliseconds since 1970; null when it does not say. */
export function timeOf(event: Held): number | null {
  const at = event.raw['at'];
  return typeof at === 'number' && Number.isFinite(at) ? at : null;
}

/** What a seal says of itself. */
export interface SealFields {
  readonly publicKey: string;
  readonly signature: string;
  readonly over: string;
  /** null: an older seal, over the chain before it. "bad": it says something that cannot be read. */
  readonly covers: SealCovers | null | 'bad';
}

export function sealFields(event: Held): SealFields {
  const what = event.raw['what'];
  const covers: unknown =
    typeof what === 'object' && what !== null ? Reflect.get(what, 'covers') : undefined;
  const read = covers === undefined ? null : Covers.safeParse(covers);
  return {
    publicKey: textIn(event, 'publicKey') ?? '',
    signature: textIn(event, 'signature') ?? '',
    over: textIn(event, 'over') ?? '',
    covers: read === null ? null : read.success ? read.data : 'bad',
  };
}
