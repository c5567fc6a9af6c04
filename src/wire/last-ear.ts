/** Pieces of speech on the last walk: those that gave words, and those that gave none. */
export interface LastEar {
  readonly heard: number;
  readonly lost: number;
}

/** Lost pieces from which a walk was heard badly, and their share: two may be a cough and a door. */
const MANY_LOST = 3;
const BAD_SHARE = 0.2;

export function heardBadly({ heard, lost }: LastEar): boolean {
  return lost >= MANY_LOST && lost / (heard + lost) >= BAD_SHARE;
}

/** As kept; nothing where nothing of the kind is. */
export function lastEar(kept: unknown): LastEar {
  if (typeof kept !== 'object' || kept === null) return { heard: 0, lost: 0 };
  const { heard, lost } = kept as Record<string, unknown>;
  return typeof heard === 'number' && typeof lost === 'number'
    ? { heard, lost }
    : { heard: 0, lost: 0 };
}
