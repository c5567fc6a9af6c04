import { inOrder } from '../chain.ts';
import type { Held } from './held.ts';
import type { Pool } from './pool.ts';

/**
 * More versions of one walk than this are not told apart: the rest is kept
 * aside. An honest walk has one; somebody who makes thousands must not be able
 * to make the record slow.
 */
const MAX_LINES = 32;

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
export function linesOf(walk: string, pool: Pool): WalkLines {
  const own = inOrder(pool.ofWalk(walk));
  const beginnings = own.filter((e) => e.kind === 'walk-begun');
  const devices = new Set(beginnings.map((b) => b.device));
  const found: WalkLine[] = [];
  const onLine = new Set<string>();
  for (const beginning of beginnings) {
    // Begun twice by one device is one walk: the first beginning counts.
    if (onLine.has(beginning.hash)) continue;
    for (const path of paths(beginning, pool, walk, MAX_LINES - found.length)) {
      for (const e of path) onLine.add(e.hash);
      found.push({ beginning, events: path, holes: [] });
    }
  }
  const rest = own.filter((e) => devices.has(e.device) && !onLine.has(e.hash));
  // On the record with a hole before them, from a salvage say: they go on counting.
  const here = rest.filter((e) => e.place === 'here' && e.kind !== 'walk-begun');
  const lines = found.map((line) => {
    const mine = here.filter((e) => e.device === line.beginning.device);
    if (mine.length === 0 || line.events.some((e) => e.place !== 'here')) return line;
    const holes = mine.filter((e) => e.prev !== null && !pool.has(e.prev));
    return { ...line, events: [...line.events, ...mine], holes };
  });
  const taken = new Set(lines.flatMap((l) => l.events.map((e) => e.hash)));
  return { lines: longest(lines), loose: rest.filter((e) => !taken.has(e.hash)) };
}

/** Every way from the beginning to an end of the chain, with the events of the walk on it. */
function paths(beginning: Held, pool: Pool, walk: string, most: number): Held[][] {
  const done: Held[][] = [];
  const open: { at: Held; path: Held[] }[] = [{ at: beginning, path: [beginning] }];
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    let { at } = next;
    const { path } = next;
    for (;;) {
      const [first, ...others] = pool.after(at);
      // Back at the beginning: hashes that claim to form a ring.
      if (first === undefined || first.hash === beginning.hash) break;
      for (const other of others)
        if (done.length + open.length < most)
          open.push({ at: other, path: other.walk === walk ? [...path, other] : [...path] });
      if (first.walk === walk) path.push(first);
      at = first;
    }
    if (done.length < most) done.push(path);
  }
  return done;
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
