import { inOrder } from '../chain.ts';
import type { SealCovers } from '#shared/event';
import { BESIDE, sealFields, textIn, type Held } from './held.ts';
import type { Known } from './keys.ts';
import { rootOf } from './merkle.ts';
import type { Pool } from './pool.ts';
import { sealTrouble } from './seal-form.ts';

/**
 * What only the device that began a walk says of it: that it is over, how it was
 * decided, and who else may add to it. A device that was let in adds what it saw.
 */
export const NEVER_BY_GUESTS: ReadonlySet<string> = new Set([
  'walk-begun',
  'let-in',
  'finished',
  'discarded',
  'decided',
  'signed',
]);

/** More devices than this walk round no aircraft together; many must not make a sheet slow. */
const MOST_LET_IN = 16;

/** Seals of one device that are tried: an honest one seals once for each time that it hands its part over. */
const MOST_SEALS = 32;

/** Devices that a walk has let in, by id, each with the key that it was let in with. */
export type Guests = ReadonlyMap<string, string>;

/** @param main events of the device that began the walk, up to its end */
export function guestsOf(main: readonly Held[]): Guests {
  const keys = new Map<string, string>();
  for (const e of main) {
    const device = e.kind === 'let-in' ? textIn(e, 'device') : null;
    // Let in again under another key: a device that lost its record. The last one stands.
    if (device !== null && device !== e.device && (keys.has(device) || keys.size < MOST_LET_IN))
      keys.set(device, textIn(e, 'publicKey') ?? '');
  }
  return keys;
}

/**
 * How what came before an event is found. linked: along the links of its chain,
 * into which nobody can put anything. listed: whatever its device has before it,
 * for a file that lacks what the device wrote elsewhere in between. unforged: the
 * same without what was set aside. kept: only what is on the record already, so
 * that a forgery that comes later spoils nothing.
 */
export type Way = 'linked' | 'listed' | 'unforged' | 'kept';
export const WAYS: readonly Way[] = ['linked', 'listed', 'unforged', 'kept'];

interface Asked {
  readonly walk: string;
  /** Hash of the event that began it. */
  readonly begun: string;
  readonly pool: Pool;
}

/** What a seal says of devices that were let in: for each, as far as the event that it names. */
export function namedMembers(
  { walk, pool }: Asked,
  guests: Guests,
  covers: SealCovers,
  way: Way,
): readonly Held[] {
  return [...guests.keys()].sort().flatMap((device) => {
    const hash = covers.heads.find((h) => h.device === device)?.hash;
    // What the signature does not name came after it, or was not there: it never counts.
    const head = hash === undefined ? undefined : pool.get(hash);
    if (head?.device !== device || head.walk !== walk) return [];
    return countable([...before(head, pool, way), head]);
  });
}

/**
 * What counts of devices that were let in while nothing seals the walk. A
 * device's own word is not enough: what it added counts when it has sealed it
 * with the key that it was let in with. On the device itself all of it counts,
 * so that it goes on where it was.
 */
export function vouchedMembers(asked: Asked, guests: Guests, known: Known): readonly Held[] {
  const { pool, walk } = asked;
  return [...guests].sort(byDevice).flatMap(([device, key]) => {
    if (device !== known.own?.device) return sealedBy(key, device, asked);
    return countable(chainOf(device, pool.ofWalk(walk)).filter((e) => e.place === 'here'));
  });
}

/** Of what a device that was let in wrote, what may count. */
export function countable(events: readonly Held[]): readonly Held[] {
  return events.filter(
    (e) => !BESIDE.has(e.kind) && e.kind !== 'sealed' && !NEVER_BY_GUESTS.has(e.kind),
  );
}

const byDevice = ([a]: readonly [string, string], [b]: readonly [string, string]) =>
  a < b ? -1 : 1;

function chainOf(device: string, all: readonly Held[]): readonly Held[] {
  return inOrder(all.filter((e) => e.device === device));
}

/** Events of the same walk and device before one, in order. */
function before(event: Held, pool: Pool, way: Way): readonly Held[] {
  if (way !== 'linked') {
    const chain = chainOf(event.device, pool.ofWalk(event.walk ?? ''));
    return chain.slice(0, chain.indexOf(event)).filter((e) => goesBy(way, e));
  }
  const found: Held[] = [];
  const seen = new Set([event.hash]);
  for (let prev = event.prev; prev !== null && !seen.has(prev);) {
    seen.add(prev);
    const e = pool.get(prev);
    if (e?.device !== event.device) break;
    if (e.walk === event.walk) found.push(e);
    prev = e.prev;
  }
  return found.reverse();
}

/** As much as the widest of its seals that hold says. */
function sealedBy(key: string, device: string, { walk, begun, pool }: Asked): readonly Held[] {
  const seals = chainOf(device, pool.ofWalk(walk)).filter((e) => {
    if (e.kind !== 'sealed') return false;
    const { covers, publicKey } = sealFields(e);
    if (covers === null || covers === 'bad' || covers.part !== 'walk') return false;
    return publicKey === key && covers.walk === walk && covers.begun === begun;
  });
  // What lies here already is looked at first: many forged ones must not hide it.
  const inTurn = [...seals].reverse().sort((a, b) => rank(a) - rank(b));
  let best: readonly Held[] = [];
  for (const seal of inTurn.slice(0, MOST_SEALS)) {
    const counts = coveredBy(seal, pool);
    if (counts.length > best.length && sealTrouble(sealFields(seal), seal.prev) === null)
      best = counts;
  }
  return best;
}

function goesBy(way: Exclude<Way, 'linked'>, { place }: Held): boolean {
  return way === 'listed' || place === 'here' || (way === 'unforged' && place === 'new');
}

const rank = (e: Held) => ['here', 'new', 'aside'].indexOf(e.place);

/** What a seal of a device that was let in covers; nothing where it does not fit what is here. */
function coveredBy(seal: Held, pool: Pool): readonly Held[] {
  const { covers } = sealFields(seal);
  if (covers === null || covers === 'bad') return [];
  for (const way of WAYS) {
    const counts = countable(before(seal, pool, way));
    const root = rootOf(counts.map((e) => e.hash));
    if (covers.events === counts.length && covers.root === root) return counts;
  }
  return [];
}
