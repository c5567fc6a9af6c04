import type { Event } from './event.ts';

/** What is written beside a walk or after it, and takes no time of it. */
const BESIDE: ReadonlySet<string> = new Set([
  'reviewed',
  'amendment',
  'squawk',
  'sealed',
  'signed',
  'decided',
  'let-in',
  'replied',
  'sound-erased',
  'picture-erased',
  'brought-back',
  'reader-changed',
]);

/** Whether the times of a walk are known: a transcript without times has none, however fast it is read. */
export function isTimed(events: readonly Event[]): boolean {
  let file = false;
  let heard = 0;
  for (const { what } of events) {
    if (what.kind === 'walk-begun') file = what.listening === 'file';
    if (what.kind !== 'heard') continue;
    heard += 1;
    if (what.heard.from !== null) return true;
  }
  return !file || heard === 0;
}

/**
 * Seconds from the begin of a walk to its finish, by its own clock; to the last
 * thing that was said or touched where it was not finished. A review, a squawk
 * written up later or a signature makes no walk longer. null: times unknown.
 */
export function lengthOf(events: readonly Event[]): number | null {
  if (!isTimed(events)) return null;
  let length = 0;
  for (const { what, t } of events) {
    if (what.kind === 'heard') length = Math.max(length, what.heard.to ?? what.heard.from ?? 0);
    if (!BESIDE.has(what.kind)) length = Math.max(length, t ?? 0);
    if (what.kind === 'finished') return length;
  }
  return length;
}

/** Seconds as m:ss, or h:mm:ss from an hour on: alike on screen and paper. */
export function clock(seconds: number): string {
  const s = Math.max(0, Math.floor(seconds));
  const tail = String(s % 60).padStart(2, '0');
  const h = Math.floor(s / 3600);
  const m = Math.floor((s % 3600) / 60);
  return h > 0 ? `${h}:${String(m).padStart(2, '0')}:${tail}` : `${m}:${tail}`;
}
