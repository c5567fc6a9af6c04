import type { Path } from '#shared/listening';
import type { Speller } from './spoken.ts';

/** The hubs of a plan while they are filled. */
export interface Hubs {
  readonly all: Record<string, Path[]>;
  has(hub: string): boolean;
  /** One expression that says any of these. */
  add(hub: string, said: readonly string[], then: string): void;
  /** Plain forms by their rank in the list, which has the usual ones first. */
  ranked(hub: string, said: readonly string[], then: string, how?: Ranked): void;
  path(hub: string, path: Path): void;
}

interface Ranked {
  /** Forms that are taken at most. */
  readonly most?: number;
  readonly weight?: number;
}

export function hubsOf(speller: Speller): Hubs {
  const all: Record<string, Path[]> = {};
  const path = (hub: string, one: Path): void => void (all[hub] ??= []).push(one);
  return {
    all,
    has: (hub) => all[hub] !== undefined,
    add(hub, said, then) {
      if (said.length > 0) path(hub, { say: said.join(' | '), then });
    },
    ranked(hub, said, then, { most, weight = 1 } = {}) {
      speller.forms(said, most).forEach((say, rank) => {
        path(hub, { say, then, weight: weight / (rank + 1) });
      });
    },
    path,
  };
}
