import type { Event } from '#shared/event';

/** Something that Talkround said, and where in a recording it was said, in seconds. */
export interface Said {
  readonly at: number;
  readonly text: string;
}

/**
 * What Talkround said while this recording ran. A headset's microphone does not
 * hear it, so that a replay without it would answer nobody. The recording's
 * place in the walk follows from what was heard in it; empty where nothing was.
 */
export function repliesIn(events: readonly Event[], recording: string): readonly Said[] {
  const begins = events.flatMap(({ what }) => {
    if (what.kind !== 'heard') return [];
    const { from, sound } = what.heard;
    return from !== null && sound?.recording === recording ? [from - sound.from] : [];
  });
  const begin = begins[0];
  if (begin === undefined) return [];
  // Told at its begin (no end yet) and at its end; one that never sounded ends where it begins.
  return events.flatMap(({ what }) =>
    what.kind === 'spoken' && what.to !== null && what.to !== what.from
      ? [{ at: what.from - begin, text: what.text }]
      : [],
  );
}

/** Those that fall due while the replay goes from one second to another. */
export function dueBetween(said: readonly Said[], from: number, to: number): readonly Said[] {
  return said.filter((s) => s.at > from && s.at <= to);
}
