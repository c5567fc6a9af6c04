import type { Held, Place } from './held.ts';

/** Events put in order for judging: looked through once, however many walks are judged. */
export interface Pool {
  /** Each event once; one that lies in two places is the one on the record. */
  ofWalk(walk: string): readonly Held[];
  /** What follows an event in the chain of its own device. */
  after(event: Held): readonly Held[];
  /** Others that claim the same place in the chain of its device. */
  rivals(event: Held): readonly Held[];
  has(hash: string): boolean;
  get(hash: string): Held | undefined;
  readonly walks: readonly string[];
}

const RANK: Readonly<Record<Place, number>> = { here: 0, new: 1, aside: 2 };

/** What was on the record comes first, and what was set aside last. */
export function byPlace(a: Held, b: Held): number {
  return RANK[a.place] - RANK[b.place];
}

export function poolOf(events: readonly Held[]): Pool {
  const best = new Map<string, Held>();
  for (const e of events) {
    const other = best.get(e.hash);
    if (other === undefined || RANK[e.place] < RANK[other.place]) best.set(e.hash, e);
  }
  const byWalk = new Map<string, Held[]>();
  const followers = new Map<string, Held[]>();
  const put = (map: Map<string, Held[]>, key: string, e: Held) => {
    const list = map.get(key);
    if (list === undefined) map.set(key, [e]);
    else list.push(e);
  };
  for (const e of best.values()) {
    if (e.walk !== null) put(byWalk, e.walk, e);
    put(followers, `${e.device} ${e.prev ?? ''}`, e);
  }
  // What was on the record stays in view, however many forks are made of it.
  for (const list of followers.values())
    list.sort((a, b) => byPlace(a, b) || (a.hash < b.hash ? -1 : 1));
  return {
    ofWalk: (walk) => byWalk.get(walk) ?? [],
    after: (e) => followers.get(`${e.device} ${e.hash}`) ?? [],
    rivals: (e) =>
      (followers.get(`${e.device} ${e.prev ?? ''}`) ?? []).filter((o) => o.hash !== e.hash),
    has: (hash) => best.has(hash),
    get: (hash) => best.get(hash),
    walks: [...byWalk.keys()],
  };
}
