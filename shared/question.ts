import { z } from 'zod';
import { Severity } from './severity.ts';
import { Candidate, ConditionSaid } from './statement.ts';

/** What an option of a `choice` changes about what was said, when it is picked. */
export const Says = z.object({
  /** It is good, or something is wrong. */
  good: z.boolean().optional(),
  severity: Severity.optional(),
  degree: ConditionSaid.shape.degree.optional(),
  /** Where on the thing. */
  place: z.string().optional(),
  /** Which of several places of its check. */
  instances: z.array(z.string()).optional(),
});
export type Says = z.infer<typeof Says>;

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
    /** Any other question: its options say themselves what they change. */
    'choice',
  ]),
  /** Which `choice` it is; left out of all other kinds. */
  topic: z.string().optional(),
  /** As it is spoken, such as "Left or right brake line?". */
  text: z.string(),
  /** What is asked about in one go, in order: each statement, and how it is called in the text. */
  items: z.array(z.object({ statement: z.string(), label: z.string() })).optional(),
  options: z.array(
    z.object({ label: z.string(), candidate: Candidate.nullable(), says: Says.optional() }),
  ),
});
export type Question = z.infer<typeof Question>;
