import type { Question } from '#shared/question';

/** Seconds a question waits for its answer, and how often it is put. */
export const QUESTION_WAIT = 6;
export const TIMES_ASKED = 2;

/** A question on its way. Plain data; `step` moves it on. */
export interface Asking {
  readonly question: Question;
  /** How often it was put. */
  readonly times: number;
  /** It was put once more because the pilot talked over it. */
  readonly repeated: boolean;
}

export type AskEvent = 'time' | 'talked-over';

export interface AskStep {
  readonly asking: Asking | null;
  /** Put it (again). */
  readonly put: boolean;
  /** It stays open and is on the list; nobody is asked again. */
  readonly leave: boolean;
  /** Nothing was taken and it is not put again: to be heard, or the pilot takes silence for a yes. */
  readonly unheard: boolean;
}

export function firstAsked(question: Question): Asking {
  return { question, times: 1, repeated: false };
}

/**
 * A question waits 6 s, is put once again, then stays open. A pilot who talks
 * over it is asked once more, and that does not count as one of the two. What is
 * said over it after that is not taken either, and the tone says so.
 */
export function step(asking: Asking, event: AskEvent): AskStep {
  if (event === 'talked-over') {
    if (asking.repeated) return { asking, put: false, leave: false, unheard: true };
    return { asking: { ...asking, repeated: true }, put: true, leave: false, unheard: false };
  }
  if (asking.times < TIMES_ASKED) {
    return {
      asking: { ...asking, times: asking.times + 1 },
      put: true,
      leave: false,
      unheard: false,
    };
  }
  return { asking: null, put: false, leave: true, unheard: true };
}
