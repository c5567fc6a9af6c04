import { z } from 'zod';
import { Question } from './question.ts';
import { Observation } from './statement.ts';
import { FIRST_TALK, Talk } from './talk.ts';

/**
 * What the grammar has to remember between two utterances: where the speaker
 * is, what was just named, and what was just asked. Plain data, so that a walk
 * that is opened again goes on where it was.
 */
export const Scene = z.object({
  station: z.string().nullable(),
  /** What "it", "that one", "same here" and "the other one" refer to. */
  check: z.string().nullable(),
  instances: z.array(z.string()),
  /** Instances of each check that already have a result: for counting and "the other one". */
  said: z.record(z.string(), z.array(z.string())),
  /** The last observation, for "I mean five quarts" and "no, sorry, the left one". */
  last: Observation.nullable(),
  /** Id of the last statement that can be taken back. */
  lastId: z.string().nullable(),
  question: Question.nullable(),
  /** Questions that were put aside and are still open, oldest first: an answer may come late. */
  aside: z.array(Question).default([]),
  /** Checks with an open squawk, for "same as before". */
  squawked: z.array(z.string()),
  /** The conversation so far, as the reader needs it. */
  talk: Talk.default(FIRST_TALK),
});
export type Scene = z.infer<typeof Scene>;

export const FIRST_SCENE: Scene = {
  station: null,
  check: null,
  instances: [],
  said: {},
  last: null,
  lastId: null,
  question: null,
  aside: [],
  squawked: [],
  talk: FIRST_TALK,
};
