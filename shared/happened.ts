import type { Event } from './event.ts';
import type { Question } from './question.ts';
import type { Statement } from './statement.ts';

/**
 * What came of one utterance or one touch: made by the session, read by speech
 * and screens. Everything in it is on disk already (R10).
 */
export interface Happened {
  /** The events that were appended, in order: heard, stated, asked, question-closed, … */
  readonly events: readonly Event[];
  readonly statements: readonly Statement[];
  /** The question that has the floor now; null when there is none. */
  readonly question: Question | null;
  /** The question that got the floor by this call, to be spoken once; null when none did. */
  readonly asked: Question | null;
  /** Kept in the log and not read: our own voice (R11), or delivered twice. */
  readonly dropped: 'own-voice' | 'repeated' | null;
  /** One sentence when it was not done. */
  readonly refused: string | null;
}
