import { z } from 'zod';

/** The five tones, by what they mean. */
export const Tone = z.enum(['understood', 'finding', 'question', 'not-understood', 'stopped']);
export type Tone = z.infer<typeof Tone>;

/** As the help screen and the debrief name them. */
export const TONE_WORDS: Readonly<Record<Tone, string>> = {
  understood: 'understood',
  finding: 'finding recorded',
  question: 'I have a question',
  'not-understood': 'not understood',
  stopped: 'listening stopped',
};

/** What Talkround gave back once: a tone, words, or both. */
export const Replied = z.object({
  /** null: no tone sounded, such as when tones are turned off. */
  tone: Tone.nullable(),
  /** Empty: the tone was all. */
  text: z.string(),
  /** shown: there was no voice, and the words stood on the screen. none: there were no words. */
  how: z.enum(['spoken', 'shown', 'none']),
  /** When it began, seconds since the walk began. */
  from: z.number(),
  /** Id of the utterance that it answers; null: of its own accord, such as a question put again. */
  answers: z.string().nullable(),
});
export type Replied = z.infer<typeof Replied>;
