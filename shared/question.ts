import { z } from 'zod';
import { Candidate } from './statement.ts';

/** What Talkround wants to know before something may count. */
export const Question = z.object({
  id: z.string(),
  /** The statement it is about. */
  about: z.string(),
  kind: z.enum([
    'which-check',
    'which-instance',
    'unit',
    'value',
    'severity',
    'polarity',
    'place',
    'recheck',
    /** What waited at a station, asked about in one go. */
    'recap',
    /** Words that may be a fault at several checks: at which of them, in one go. */
    'which-fault',
  ]),
  /** As it is spoken, such as "Left or right brake line?". */
  text: z.string(),
  /** What is asked about in one go, in order: each statement, and how it is called in the text. */
  items: z.array(z.object({ statement: z.string(), label: z.string() })).optional(),
  options: z.array(z.object({ label: z.string(), candidate: Candidate.nullable() })),
});
export type Question = z.infer<typeof Question>;
