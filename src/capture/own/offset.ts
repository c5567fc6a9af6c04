/*
 * Where a stream of sound stands in the time of the walk. A sound card counts seconds of
 * its own: at fifty in a million more or less than the device's clock, an hour of a walk
 * would be 0.18 s off, and its words beside the sound that they are played with.
 */

/** Seconds by which sound may be late before its times are taken anew: the platform was asleep. */
const GAP = 0.5;
/**
 * Seconds over which the least delay is taken for none. Two of them at once: longer lets the
 * clocks drift apart (12 ms at a hundred in a million), shorter takes a page that was busy for
 * a while for a clock that runs late.
 */
const WINDOW = 60;

export interface Offset {
  /** Sound up to `sent` seconds of the stream is there at `now` seconds of the walk. */
  take(now: number, sent: number): void;
  /** Seconds of the walk at the stream's own zero; null before any sound came. */
  readonly zero: number | null;
  /** The stream begins anew so many seconds of it later. */
  shift(seconds: number): void;
  reset(): void;
}

export function createOffset(): Offset {
  let zero: number | null = null;
  /** Least delay of this window and of the last one. */
  let least = Infinity;
  let before = Infinity;
  let since = 0;

  return {
    take(now, sent) {
      const late = now - sent;
      if (zero === null || Math.abs(late - zero) > GAP) {
        before = Infinity;
        least = late;
        since = now;
      } else if (now - since < WINDOW) least = Math.min(least, late);
      else {
        before = least;
        least = late;
        since = now;
      }
      zero = Math.min(before, least);
    },
    get zero() {
      return zero;
    },
    shift(seconds) {
      if (zero !== null) zero += seconds;
      least += seconds;
      before += seconds;
    },
    reset() {
      zero = null;
      least = before = Infinity;
    },
  };
}
