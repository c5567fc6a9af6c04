import type { Draft, Happening } from '#shared/event';
import type { World } from '#shared/log';
import { heard } from './words.ts';

/** A world that counts: the same ids and times in every run. */
export function countingWorld(seed = 0): World {
  let n = 0;
  const start = Date.UTC(2026, 0, 5, 8) + seed;
  const now = () => start + n * 1000;
  return {
    id() {
      n += 1;
      return uuid7(now(), seed * 1_000_000 + n);
    },
    now,
    steady: () => n,
  };
}

/** A UUIDv7 of a time and a number. */
export function uuid7(at: number, n: number): string {
  const time = at.toString(16).padStart(12, '0');
  const rest = n.toString(16).padStart(12, '0');
  return `${time.slice(0, 8)}-${time.slice(8)}-7000-8000-${rest}`;
}

export const AIRCRAFT = 'R-102';

/** Drafts of one walk. */
export function drafting(world: World, walk: string) {
  const draft = (what: Happening, t: number | null = 1): Draft => ({
    v: 1,
    id: world.id(),
    walk,
    aircraft: AIRCRAFT,
    at: world.now(),
    t,
    what,
  });
  return {
    draft,
    begun: (more: { pilot?: string; instructor?: string } = {}) =>
      draft(
        {
          kind: 'walk-begun',
          aircraft: AIRCRAFT,
          catalogue: 'two-seat-helicopter',
          edition: 'e'.repeat(64),
          circumstances: [],
          pilot: more.pilot ?? 'P. Heron',
          instructor: more.instructor ?? null,
          hours: null,
          listening: 'typed',
          squawks: [],
        },
        0,
      ),
    said: (text: string, recording: string | null = null, speaker: string | null = null) =>
      draft({ kind: 'heard', heard: heard(world.id(), text, recording, speaker) }),
    finished: () => draft({ kind: 'finished', open: [] }),
  };
}
