import type { Coverage } from './coverage.ts';
import type { Event } from './event.ts';

/**
 * What came of one utterance or one touch: made by the session, read by speech
 * and screens. Everything in it is on disk already (R10).
 */
export interface Happened {
  /** The events that were appended, in order: heard, stated, asked, question-closed, … */
  readonly events: readonly Event[];
  /** Ids of the checks whose standing changed. */
  readonly changed: readonly string[];
  /** The coverage before it, so that what is new can be told; null at the beginning of a walk. */
  readonly before: Coverage | null;
}
