import { Event, type Draft } from '#shared/event';
import { isInstant } from '#shared/instant';
import { canonical, sha256Hex, wellFormed } from './canonical.ts';
import { MAX_EVENT_BYTES } from './limits.ts';
import { ASIDE } from './shelf.ts';

/** An event as it was written, before it is read through its format: what the hash is of. */
export type Raw = Readonly<Record<string, unknown>>;

/** What the chain needs of an event, whatever its format. */
export interface Link {
  readonly id: string;
  readonly device: string;
  readonly walk: string | null;
  readonly aircraft: string | null;
  readonly kind: string;
  readonly prev: string | null;
  readonly hash: string;
}

/** A draft that the log refuses, in one sentence. */
export class BadDraft extends Error {
  override readonly name = 'BadDraft';
}

const nullOrText = (value: unknown): value is string | null =>
  value === null || typeof value === 'string';

/** The chain's own fields of an event of any format, or null when it has not got them. */
export function linkOf(raw: unknown): Link | null {
  if (typeof raw !== 'object' || raw === null) return null;
  const { id, device, walk, aircraft, prev, hash, what } = raw as Raw;
  const kind = typeof what === 'object' && what !== null ? (what as Raw)['kind'] : undefined;
  if (typeof id !== 'string' || id === '' || typeof device !== 'string' || device === '')
    return null;
  if (typeof kind !== 'string' || typeof hash !== 'string') return null;
  if (!nullOrText(walk) || !nullOrText(aircraft) || !nullOrText(prev)) return null;
  return { id, device, walk, aircraft, kind, prev, hash };
}

/** Parts the name of a version from that of its walk: no walk is named so, or it would pass for a version of another. */
export const VERSION_AT = '@';

export const NOT_PLAIN =
  'A name in it is none that a device gives: it could pass for something else.';

/** Whether the names in an event are such as a device gives; others could pass for something else here. */
export function isPlain({ id, device, walk, kind }: Link): boolean {
  const names = [id, device, walk ?? '', kind];
  return names.every((n) => !n.startsWith(ASIDE)) && walk?.includes(VERSION_AT) !== true;
}

export const NO_CLOCK = 'Its time is none that a clock shows.';

/** Whether the time of an event can be shown; one that does not say any is left to its format. */
export function hasTime(raw: Raw): boolean {
  const { at } = raw;
  return typeof at !== 'number' || isInstant(at);
}

/** SHA-256, hex, of the RFC 8785 form of an event without its field "hash". */
export function hashOf(raw: Raw): string {
  const rest: Record<string, unknown> = { ...raw };
  delete rest['hash'];
  return sha256Hex(canonical(rest));
}

/**
 * Hashes of events that were just parsed and that nobody else holds, so that none
 * can be changed behind them: restoring asks for each three times.
 */
const known = new WeakMap<Raw, string>();

/** Hashes an event that was just parsed; it may not be changed from here on. */
export function hashOnce(raw: unknown): void {
  if (typeof raw !== 'object' || raw === null) return;
  try {
    known.set(raw as Raw, hashOf(raw as Raw));
  } catch {
    // `hashFits` says so.
  }
}

/** Whether an event has the hash that it says. Never throws. */
export function hashFits(raw: Raw, hash: string): boolean {
  try {
    return (known.get(raw) ?? hashOf(raw)) === hash;
  } catch {
    // Nested too deep or not JSON: it cannot be what was written.
    return false;
  }
}

/** An event with the text that is kept of it. */
export interface Chained {
  readonly event: Event;
  readonly text: string;
}

/**
 * Chains drafts behind `head`, the hash of the device's latest event (null for
 * an empty log). Throws `BadDraft` when one could not be read back.
 */
export function chain(
  drafts: readonly Draft[],
  device: string,
  head: string | null,
): readonly Chained[] {
  let prev = head;
  return drafts.map((draft) => {
    const parsed = Event.safeParse({ ...draft, device, prev, hash: '' });
    if (!parsed.success) {
      const issue = parsed.error.issues[0];
      throw new BadDraft(
        `An event of kind "${draft.what.kind}" cannot be written: "${issue?.path.map(String).join('.') ?? ''}": ${issue?.message ?? 'unknown'}.`,
      );
    }
    const event = hashed(parsed.data);
    prev = event.hash;
    const text = canonical(event);
    if (isTooLarge(text))
      throw new BadDraft(
        `An event of kind "${draft.what.kind}" has more than ${MAX_EVENT_BYTES / 1024 / 1024} MB of text, which no backup takes back. Shorten what was written.`,
      );
    return { event, text };
  });
}

/** What is written has to come back from a backup. Looked at in full only where it may be. */
function isTooLarge(text: string): boolean {
  if (text.length <= MAX_EVENT_BYTES / 3) return false;
  return new TextEncoder().encode(text).length > MAX_EVENT_BYTES;
}

/** With its hash. Broken text in what was heard is mended rather than refused: words are not lost for it. */
function hashed(event: Event): Event {
  try {
    return { ...event, hash: hashOf(event) };
  } catch {
    const mended = wellFormed(event);
    return { ...mended, hash: hashOf(mended) };
  }
}

/**
 * The one order of a set of events, whatever order they arrived in: each
 * device's chain in the order of its links, and the chains merged by id
 * (UUIDv7, so by time). A device clock that steps back cannot put an event
 * before its own predecessor.
 */
export function inOrder<T extends Link>(links: readonly T[]): readonly T[] {
  const byDevice = new Map<string, T[]>();
  for (const link of links) {
    const list = byDevice.get(link.device);
    if (list === undefined) byDevice.set(link.device, [link]);
    else list.push(link);
  }
  const chains = [...byDevice.values()].map(chainOrder);
  const only = chains[0];
  if (chains.length === 1 && only !== undefined) return only;
  const at = chains.map(() => 0);
  const out: T[] = [];
  while (out.length < links.length) {
    let best = -1;
    for (let c = 0; c < chains.length; c += 1) {
      const here = chains[c]?.[at[c] ?? 0];
      const there = best < 0 ? undefined : chains[best]?.[at[best] ?? 0];
      if (here !== undefined && (there === undefined || compareIds(here, there) < 0)) best = c;
    }
    const next = chains[best]?.[at[best] ?? 0];
    if (next === undefined) break;
    out.push(next);
    at[best] = (at[best] ?? 0) + 1;
  }
  return out;
}

function compareIds(a: Link, b: Link): number {
  if (a.id !== b.id) return a.id < b.id ? -1 : 1;
  if (a.device !== b.device) return a.device < b.device ? -1 : 1;
  return a.hash < b.hash ? -1 : a.hash > b.hash ? 1 : 0;
}

/** The events of one device along their links; loose ends by id. */
function chainOrder<T extends Link>(links: readonly T[]): readonly T[] {
  const hashes = new Set(links.map((l) => l.hash));
  const after = new Map<string, T[]>();
  const starts: T[] = [];
  for (const link of [...links].sort(compareIds)) {
    if (link.prev === null || !hashes.has(link.prev)) starts.push(link);
    else {
      const list = after.get(link.prev);
      if (list === undefined) after.set(link.prev, [link]);
      else list.push(link);
    }
  }
  const out: T[] = [];
  const seen = new Set<T>();
  const stack = starts.reverse();
  for (;;) {
    const link = stack.pop();
    if (link === undefined) break;
    if (seen.has(link)) continue;
    seen.add(link);
    out.push(link);
    const next = after.get(link.hash) ?? [];
    for (let i = next.length - 1; i >= 0; i -= 1) {
      const follower = next[i];
      if (follower !== undefined) stack.push(follower);
    }
  }
  // Links that claim to form a ring hang on no start. They cannot verify, and
  // they still have a place.
  if (out.length < links.length) out.push(...links.filter((l) => !seen.has(l)).sort(compareIds));
  return out;
}
