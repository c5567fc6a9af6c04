import { sealFields, textIn, type Held } from './held.ts';
import { keyStanding, type KeyStanding, type Known } from './keys.ts';
import { byPlace, type Pool } from './pool.ts';
import { sealTrouble } from './seal-form.ts';

/**
 * Seals that are tried where there are more versions of a walk than are told
 * apart: each takes some milliseconds, and this many a second.
 */
const MOST_TRIED = 256;
/** Versions that are found by their seals: no walk has as many honest ones. */
const MOST_PROVEN = 8;

const KEYS: readonly KeyStanding[] = ['own', 'compared', 'met', 'new', 'changed'];

/**
 * The ways that a seal proves, found from the seal back to the beginning, where
 * there is no fork: whoever makes thousands of versions cannot hide them. Those
 * by a key that is known come first.
 *
 * @param own every event of the walk
 */
export function provenPaths(
  walk: string,
  own: readonly Held[],
  pool: Pool,
  known: Known,
): readonly Held[][] {
  const seals = own
    .flatMap((event) => {
      if (event.kind !== 'sealed') return [];
      const { covers, publicKey } = sealFields(event);
      if (covers === null || covers === 'bad' || covers.part !== 'walk') return [];
      const begun = pool.get(covers.begun);
      if (begun?.kind !== 'walk-begun' || begun.walk !== walk) return [];
      if (begun.device !== event.device || textIn(begun, 'key') !== publicKey) return [];
      return [{ event, begun, key: KEYS.indexOf(keyStanding(event.device, publicKey, known)) }];
    })
    .sort((a, b) => a.key - b.key || byPlace(a.event, b.event));
  const proven: Held[][] = [];
  for (const { event, begun } of seals.slice(0, MOST_TRIED)) {
    if (proven.length >= MOST_PROVEN) break;
    if (sealTrouble(sealFields(event), event.prev) !== null) continue;
    const path = wayBack(event, begun, pool);
    if (path !== null) proven.push([...path, ...wayOn(event, pool)]);
  }
  return proven;
}

/** From an event back to the beginning of its walk, in order; null when the links lead elsewhere. */
function wayBack(event: Held, begun: Held, pool: Pool): Held[] | null {
  const path: Held[] = [];
  const seen = new Set<string>();
  for (let at: Held | undefined = event; at !== undefined && !seen.has(at.hash);) {
    if (at.device !== begun.device) return null;
    seen.add(at.hash);
    if (at.walk === begun.walk) path.unshift(at);
    if (at.hash === begun.hash) return path;
    at = at.prev === null ? undefined : pool.get(at.prev);
  }
  return null;
}

/** What its device wrote into the walk behind an event, as far as nobody else claims the place. */
function wayOn(event: Held, pool: Pool): Held[] {
  const path: Held[] = [];
  const seen = new Set([event.hash]);
  for (let at = only(event, pool); at !== undefined && !seen.has(at.hash); at = only(at, pool)) {
    seen.add(at.hash);
    if (at.walk === event.walk) path.push(at);
  }
  return path;
}

function only(event: Held, pool: Pool): Held | undefined {
  const [first, ...others] = pool.after(event);
  return others.length === 0 ? first : undefined;
}
