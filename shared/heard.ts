import { z } from 'zod';
import type { Format } from './format.ts';

/** Where the sound of an utterance is kept. Times in seconds from the recording's begin. */
export const SoundPlace = z.object({
  recording: z.string(),
  from: z.number(),
  to: z.number(),
});
export type SoundPlace = z.infer<typeof SoundPlace>;

/** One word with its times, in seconds since the walk began, and the recogniser's confidence, 0 to 1. */
export const HeardWord = z.object({
  text: z.string(),
  from: z.number().nullable(),
  to: z.number().nullable(),
  confidence: z.number().min(0).max(1).nullable(),
});
export type HeardWord = z.infer<typeof HeardWord>;

export const HeardBy = z.enum([
  'typed',
  'transcript',
  'sound-file',
  'embedded',
  'browser',
  'scripted',
]);
export type HeardBy = z.infer<typeof HeardBy>;

/** What a recogniser delivered: one final utterance. */
export const Heard = z.object({
  v: z.literal(1),
  id: z.string(),
  by: HeardBy,
  /** The words as delivered, punctuation included where there is any. */
  text: z.string(),
  /** Empty where the recogniser gives no word times. */
  words: z.array(HeardWord),
  /** Other readings of the same sound (n-best), best first, without `text` itself. */
  alternatives: z.array(
    z.object({
      text: z.string(),
      confidence: z.number().nullable(),
      /** Another recogniser's, which heard the same sound by itself; left out: the same one's. */
      by: HeardBy.optional(),
      /** These words went out before, as an utterance of their own: they count there. */
      told: z.boolean().optional(),
    }),
  ),
  /** Seconds since the walk began; null in a transcript without times. */
  from: z.number().nullable(),
  to: z.number().nullable(),
  confidence: z.number().min(0).max(1).nullable(),
  sound: SoundPlace.nullable(),
  /** Who speaks, where the source says so. */
  speaker: z.string().nullable(),
  /** Left the device to be recognised. */
  sentAway: z.boolean(),
});
export type Heard = z.infer<typeof Heard>;

export const HeardFormat: Format<typeof Heard> = {
  name: 'heard utterance',
  version: 1,
  schema: Heard,
  upcasters: {},
};
