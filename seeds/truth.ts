import { z } from 'zod';
import { Act } from '#shared/catalogue';
import { Circumstance } from '#shared/circumstance';
import { Severity } from '#shared/severity';

/**
 * What a sample walk has to come out as, decided by hand from its words and the
 * eleven rules, never from what the program prints.
 */

const Ids = z.array(z.string()).default([]);

/** A check of which only a part was said, and what is missing of it. */
const Part = z.strictObject({
  check: z.string(),
  aspects: Ids,
  instances: Ids,
  measures: Ids,
  acts: z.array(Act).default([]),
});

const TruthFinding = z
  .strictObject({
    /** null: unplaced (R4). */
    check: z.string().nullable(),
    instances: Ids,
    /** Sign of the catalogue, where it is one. */
    sign: z.string().optional(),
    /** Condition of the lexicon, where it is no sign of the catalogue or to say both. */
    condition: z.string().optional(),
    /** Measure whose value is outside its limits (R8). */
    measure: z.string().optional(),
    /** null: nobody said, and neither sign nor measure has one. */
    severity: Severity.nullable(),
    settled: z.enum(['stands', 'in-question', 'taken-back']).default('stands'),
  })
  .refine((f) => f.sign !== undefined || f.condition !== undefined || f.measure !== undefined, {
    message: 'a finding has a sign, a condition or a measure',
  });

export const Truth = z.strictObject({
  v: z.literal(1),
  /** What the walk shows, in a sentence. */
  about: z.string(),
  /** Published sources of the failure that it shows. */
  sources: z.array(z.string()).default([]),
  /** File stem in seeds/catalogues. */
  catalogue: z.string(),
  /** As said in the walk, at its end. */
  circumstances: z.array(Circumstance).default([]),
  /** How every check required today stands that no list below names. */
  rest: z.enum(['spoken', 'skipped']),
  spoken: Ids,
  part: z.array(Part).default([]),
  question: Ids,
  /** Misheard so far that asking is as right as understanding: spoken for or in question (R5). */
  unsure: Ids,
  skipped: Ids,
  setAside: Ids,
  /** Checks that a finding made required. */
  followUps: Ids,
  findings: z.array(TruthFinding).default([]),
  /** Kinds of remark that the sheet has to make; others may stand beside them. */
  remarks: z
    .array(
      z.enum([
        'out-of-order',
        'too-fast',
        'long-silence',
        'held',
        'not-completed',
        'from-memory',
        'value-missing',
      ]),
    )
    .default([]),
  /** Was "finish" said? Otherwise the end of the file ends it. */
  finished: z.boolean(),
  /** 0: every check required today is spoken for or set aside where that is allowed; 1: not so. */
  exit: z.union([z.literal(0), z.literal(1)]),
});
export type Truth = z.infer<typeof Truth>;
