import { z } from 'zod';
import { Observation } from './statement.ts';

/**
 * The conversation so far, as far as the reader needs it: the last utterances with
 * what was made of each, and where the speaker probably is. Plain data; follows from
 * the words and the statements alone.
 */

/** What was decided about one check or station in an utterance; added up. */
export const SAID = { result: 1, good: 2, finding: 4, asked: 8, talk: 16 } as const;

export const Turn = z.object({
  /** Id of the utterance. */
  heard: z.string(),
  text: z.string(),
  /** By check id, or `station:` and the station's: a sum of `SAID`, and the places meant. */
  said: z.record(z.string(), z.object({ what: z.number().int(), places: z.array(z.string()) })),
});
export type Turn = z.infer<typeof Turn>;

/** An utterance that changed something, and can be taken back whole. */
export const Done = z.object({
  heard: z.string(),
  /** As it was said, for saying what was taken back. */
  words: z.string(),
  statements: z.array(
    z.object({ id: z.string(), check: z.string().nullable(), places: z.array(z.string()) }),
  ),
});
export type Done = z.infer<typeof Done>;

export const Talk = z.object({
  /** Oldest first; only the last few. */
  turns: z.array(Turn),
  /** Everything said of a check in the walk so far: a sum of `SAID`. */
  ever: z.record(z.string(), z.number().int()),
  /** Probability of each station of the catalogue, in its order; empty before anything was heard. */
  belief: z.array(z.number()),
  /** As it was before the last utterance, which may still have to be read. */
  was: z.array(z.number()),
  /** The station that somebody set or named outright, while nothing speaks against it. */
  at: z.string().nullable(),
  /** What can be taken back, oldest first. */
  done: z.array(Done).default([]),
  /** What happened to the aircraft: the statement, the sign of the catalogue or, where it has none, the words, and who cleared it. */
  events: z
    .array(
      z.object({
        statement: z.string(),
        sign: z.string(),
        /** Statement that maintenance has cleared it; null while nobody said so. */
        cleared: z.string().nullable(),
      }),
    )
    .default([]),
  /** The last observations, so that a question is answered late as well as at once. */
  told: z.array(Observation).default([]),
  /** Doubts that are not worth a breath before the station is left, oldest first. */
  waiting: z.array(Observation).default([]),
});
export type Talk = z.infer<typeof Talk>;

export const FIRST_TALK: Talk = {
  turns: [],
  ever: {},
  belief: [],
  was: [],
  at: null,
  done: [],
  events: [],
  told: [],
  waiting: [],
};

/** Utterances that are kept. Names are said once and meant for long; more than this was never needed. */
export const TURNS = 8;

/** Utterances that can be taken back, one after the other. */
export const TAKEN_BACK = 12;

/** Observations that a late answer can still be about. */
export const TOLD = 40;
