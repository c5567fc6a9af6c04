import type { Event } from '#shared/event';
import type { SoundPlace } from '#shared/heard';
import type { Replied } from '#shared/replied';
import { repliesOf } from '#shared/replies';

/** Something that Talkround gave back, and where in a recording it did, in seconds. */
export interface Said extends Pick<Replied, 'tone' | 'text'> {
  readonly at: number;
}

/** A recording of a walk, and when in the walk it began, in seconds. */
interface Begun {
  readonly recording: string;
  readonly from: number;
}

/** The recordings of a walk in order. The place of each follows from what was heard in it. */
function recordingsIn(events: readonly Event[]): readonly Begun[] {
  const found = new Map<string, number>();
  for (const { what } of events) {
    if (what.kind !== 'heard') continue;
    const { from, sound } = what.heard;
    if (from === null || sound === null || found.has(sound.recording)) continue;
    found.set(sound.recording, from - sound.from);
  }
  return [...found]
    .map(([recording, from]) => ({ recording, from }))
    .sort((a, b) => a.from - b.from);
}

/**
 * What Talkround gave back while this recording ran, and until the next began. A
 * headset's microphone does not hear it, so that a replay without it would
 * answer nobody. Empty where nothing was heard in the recording. What came
 * before the first recording belongs to it, at a time below zero.
 */
export function repliesIn(events: readonly Event[], recording: string): readonly Said[] {
  const all = recordingsIn(events);
  const place = all.findIndex((r) => r.recording === recording);
  const begin = all[place];
  if (begin === undefined) return [];
  const from = place === 0 ? -Infinity : begin.from;
  const to = all[place + 1]?.from ?? Infinity;
  return repliesOf(events).flatMap((r) =>
    r.from >= from && r.from < to ? [{ at: r.from - begin.from, tone: r.tone, text: r.text }] : [],
  );
}

/** The begin of the recording that follows in the walk; null after the last. */
export function nextAfter(events: readonly Event[], recording: string): SoundPlace | null {
  const all = recordingsIn(events);
  const place = all.findIndex((r) => r.recording === recording);
  const next = place < 0 ? undefined : all[place + 1];
  return next === undefined ? null : { recording: next.recording, from: 0, to: 0 };
}

/** Those that fall due while the replay goes from one second to another. */
export function dueBetween(said: readonly Said[], from: number, to: number): readonly Said[] {
  return said.filter((s) => s.at > from && s.at <= to);
}
