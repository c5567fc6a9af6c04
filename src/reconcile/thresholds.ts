import type { Act } from '#shared/catalogue';

/**
 * Least time that an act can take, seconds: not the usual time, the shortest in
 * which a practised person can have done it. Common practice, no source.
 * Too long: brisk people are remarked upon, and stop reading remarks. Too
 * short: answers from memory pass unremarked. A remark never changes a
 * standing, so both errors cost attention, not a check.
 */
export const ACT_SECONDS: Readonly<Record<Act, number>> = {
  look: 0.7,
  feel: 1.2,
  move: 1.5,
  measure: 3,
  listen: 1.5,
};

/**
 * Looking on ahead is honest: time before an answer counts towards later ones,
 * up to this many seconds. More: a long chat at the start would excuse a whole
 * walk sung from memory. Less: whoever looks first and talks afterwards is
 * taken for singing.
 */
export const TIME_IN_HAND_MOST = 30;

/** How far behind the acts the answers have to be, seconds, and over how many checks, before it is called sing-song. One hurried answer is not a pattern. */
export const OVERDRAWN_SECONDS = 3;
export const RUN_LEAST = 4;

/** After so much debt, a pause is a new start. */
export const OVERDRAWN_MOST = 15;

/**
 * Silence that is worth a remark, seconds. Shorter: every look under a cowling
 * is remarked on. Longer: an interruption that nobody announced goes unseen,
 * and what was half done then is not looked at again.
 */
export const LONG_SILENCE = 120;

/**
 * Nobody walks from one station to another in less, seconds, unless they stand
 * side by side: nearer than this on the plan (hundredths of its size).
 */
export const STATION_STEP_SECONDS = 2;
export const NEAR_ON_PLAN = 20;

/**
 * Difference between the device's clock and the walk's own that is called a
 * jump, seconds. Clocks are corrected by a second or two all the time.
 */
export const CLOCK_JUMP = 60;
export const CLOCK_BACK = 5;

/** Talk is slower than it is read; an utterance lasts at most this much longer than its words take. */
export const SLOW_SPEECH = 1.5;
