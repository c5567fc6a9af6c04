import { z } from 'zod';

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
});
export type Talk = z.infer<typeof Talk>;

export const FIRST_TALK: Talk = { turns: [], ever: {}, belief: [], was: [], at: null };

/** Utterances that are kept. Names are said once and meant for long; more than this was never needed. */
export const TURNS = 8;
