import { inOrder } from '../chain.ts';
import type { Held } from './held.ts';
import { KNOWS_NOBODY, type Known } from './keys.ts';
import { byPlace, type Pool } from './pool.ts';
import { provenPaths } from './proven.ts';

/**
 * More versions of one walk than this are not told apart: the rest is kept
 * aside. An honest walk has one; somebody who makes thousands must not be able
 * to make the record slow. What was here, and what is sealed by a key that is
 * known, comes before all others: many forgeries push out none of it.
 */
export const MAX_LINES = 32;

/** One way along the links of the device that began a walk, from its beginning to an end. */
export interface WalkLine {
  readonly beginning: Held;
  /** Its events of this walk, in order, the beginning first. */
  readonly events: readonly Held[];
  /** Those of them whose predecessor is not here although they are on the record. */
  readonly holes: readonly Held[];
}

export interface WalkLines {
  readonly lines: readonly WalkLine[];
  /** Events of the walk by a device that began it, on none of the lines. */
  readonly loose: readonly Held[];
}

/**
 * Every version of a walk: one for each beginning, and one more wherever two
 * events of its device follow the same event. Fewer where one version is only
 * the beginning of another.
 *
 * @param pool the events of the walk, and what else is known of the chains of its devices
 */
export function linesOf(walk: string, pool: Pool, known: Known = KNOWS_NOBODY): WalkLines {
  const own = inOrder(pool.ofWalk(walk));
  const beginnings = own.filter((e) => e.kind === 'walk-begun').sort(byPlace);
  const devices = new Set(beginnings.map((b) => b.device));
  let found: WalkLine[] = [];
  const onLine = new Set<string>();
  const counts = new Map<string, number>();
  for (const { device } of own) counts.set(device, (counts.get(device) ?? 0) + 1);
  for (const beginning of beginnings) {
    // Begun twice by one device is one walk: the first beginning counts.
    if (onLine.has(beginning.hash)) continue;
    const most = MAX_LINES - found.length;
    for (const path of paths(beginning, pool, walk, most, counts.get(beginning.device) ?? 0)) {
      for (const e of path) onLine.add(e.hash);
      found.push({ beginning, events: path, holes: [] });
    }
  }
  if (found.length >= MAX_LINES) {
    found = withProven(found, provenPaths(walk, own, pool, known));
    for (const { events } of found) for (const e of events) onLine.add(e.hash);
  }
  const rest = own.filter((e) => devices.has(e.device) && !onLine.has(e.hash));
  // On the record with a hole before them, from a salvage say: they go on counting.
  const here = rest.filter((e) => e.place === 'here' && e.kind !== 'walk-begun');
  const lines = found.map((line) => {
    const mine = here.filter((e) => e.device === line.beginning.device);
    if (mine.length === 0 || line.beginning.place !== 'here') return line;
    const holes = mine.filter((e) => e.prev !== null && !pool.has(e.prev));
    return { ...line, events: [...line.events, ...mine], holes };
  });
  const taken = new Set(lines.flatMap((l) => l.events.map((e) => e.hash)));
  return { lines: longest(lines), loose: rest.filter((e) => !taken.has(e.hash)) };
}

/** What was here, then what a seal proves, then the others; no more than are told apart. */
function withProven(found: readonly WalkLine[], proven: readonly Held[][]): WalkLine[] {
  const isHere = ({ events }: WalkLine) => events.every((e) => e.place === 'here');
  const lines = proven.flatMap((events): WalkLine[] => {
    const [beginning] = events;
    return beginning === undefined ? [] : [{ beginning, events, holes: [] }];
  });
  const nameOf = ({ events }: WalkLine) => events.map((e) => e.hash).join();
  const once = new Map(
    [...found.filter(isHere), ...lines, ...found].map((line) => [nameOf(line), line]),
  );
  return [...once.values()].slice(0, MAX_LINES);
}

/**
 * Every way from the beginning to an end of the chain, with the events of the walk on it.
 * Ways that were set aside are gone last, so that they push out no other.
 *
 * @param all how many events of the walk its device has: behind the last of them the
 *   chain is not followed, or each of a thousand walks would read the whole log
 */
function paths(beginning: Held, pool: Pool, walk: string, most: number, all: number): Held[][] {
  const reached = new Set([beginning.hash]);
  const done: Held[][] = [];
  const open: Way[] = [{ at: beginning, path: [beginning] }];
  const later: Way[] = [];
  for (let next = open.pop(); next !== undefined; next = open.pop() ?? later.shift()) {
    if (done.length >= most) break;
    let { at } = next;
    const { path } = next;
    while (reached.size < all) {
      const [first, ...others] = pool.after(at);
      // Back at the beginning: hashes that claim to form a ring.
      if (first === undefined || first.hash === beginning.hash) break;
      for (const other of others) {
        const turn = other.place === 'aside' ? later : open;
        if (turn.length >= most) continue;
        turn.push({ at: other, path: other.walk === walk ? [...path, other] : [...path] });
        if (other.walk === walk) reached.add(other.hash);
      }
      if (first.walk === walk) {
        path.push(first);
        reached.add(first.hash);
      }
      at = first;
    }
    if (done.length < most) done.push(path);
  }
  return done;
}

/** Where a way has come to, and the events of the walk on it. */
interface Way {
  readonly at: Held;
  readonly path: Held[];
}

/** Without those that are only the beginning of another. */
function longest(lines: readonly WalkLine[]): readonly WalkLine[] {
  const isStart = (a: WalkLine, b: WalkLine) =>
    a.events.length <= b.events.length && a.events.every((e, i) => e.hash === b.events[i]?.hash);
  return lines.filter(
    (line, i) =>
      !lines.some(
        (other, j) => i !== j && isStart(line, other) && (j < i || !isStart(other, line)),
      ),
  );
}
