import type { Heard } from '#shared/heard';
import { LONGEST_PROMPT } from '#shared/speech';

/**
 * When our own voice sounded, seconds since the walk began; `to` null while it
 * still sounds, and `from` itself when nothing came out after all.
 */
export interface Window {
  readonly from: number;
  readonly to: number | null;
}

/**
 * How long our voice still comes back through headset and hangar after its end
 * (design note: about 1.5 s). Too short: our own words are taken for the
 * pilot's, and a check may count that nobody made. Too long: the pilot's first
 * words after a prompt are lost to the reading, and are asked for again.
 */
export const ECHO_SECONDS = 1.5;

/**
 * Seconds after which a voice whose end was never told, such as before a crash,
 * counts as ended: twice the longest prompt. Without it the walk would stay deaf.
 */
export const LONGEST_VOICE = 2 * LONGEST_PROMPT;

/**
 * Whether something heard began while our own voice sounded (R11). Typed words
 * and words without times cannot be ours.
 */
export function isOwnVoice(heard: Heard, windows: readonly Window[]): boolean {
  const from = heard.from;
  if (from === null || heard.by === 'typed') return false;
  return windows.some(
    (w) =>
      w.to !== w.from && from >= w.from && from < (w.to ?? w.from + LONGEST_VOICE) + ECHO_SECONDS,
  );
}
