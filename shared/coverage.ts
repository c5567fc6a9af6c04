import { z } from 'zod';
import { Act } from './catalogue.ts';
import { Circumstance } from './circumstance.ts';
import type { Format } from './format.ts';
import { Picture } from './picture.ts';
import { Question } from './question.ts';
import { Severity } from './severity.ts';
import { Force } from './statement.ts';

/** The rules of shared/README.md. */
export const Rule = z.enum(['R1', 'R2', 'R3', 'R4', 'R5', 'R6', 'R7', 'R8', 'R9', 'R10', 'R11']);
export type Rule = z.infer<typeof Rule>;

/**
 * How a check stands. "skipped" is what "unspoken" is called once the walk is
 * finished.
 */
export const Standing = z.enum(['spoken', 'part', 'question', 'unspoken', 'skipped', 'set-aside']);
export type Standing = z.infer<typeof Standing>;

/** As shown, spoken and printed. */
export const STANDING_WORDS: Readonly<Record<Standing, string>> = {
  spoken: 'spoken for',
  part: 'part spoken',
  question: 'in question',
  unspoken: 'unspoken',
  skipped: 'skipped',
  'set-aside': 'set aside',
};

/** One reason for a standing: the rule, a sentence, and the events and words behind it. */
export const Reason = z.object({
  rule: Rule,
  text: z.string(),
  events: z.array(z.string()),
  words: z.string().nullable(),
});
export type Reason = z.infer<typeof Reason>;

/** Why a check is required today. */
export const Required = z.object({
  today: z.boolean(),
  by: z.enum(['always', 'circumstance', 'follow-up', 'squawk', 'not']),
  circumstance: Circumstance.nullable(),
  /** For a follow-up: the sign and the finding; for a squawk: the squawk. */
  because: z.string().nullable(),
});
export type Required = z.infer<typeof Required>;

/** Words that were said of a check, with the event that holds them. */
export const SaidOf = z.object({ words: z.string(), event: z.string(), force: Force });
export type SaidOf = z.infer<typeof SaidOf>;

/**
 * What was said of a check by what it was. Explained is not checked: only what
 * was done or reported can count (R2).
 */
export const Told = z.object({
  /** Spoken of in talk: taught, planned, supposed, asked, of the past, of others. */
  explained: z.array(SaidOf),
  /** "Checked", "felt": the act was made; what was found need not have been said. */
  done: z.array(SaidOf),
  /** What was found was said: a verdict, a condition, a value. */
  reported: z.array(SaidOf),
});
export type Told = z.infer<typeof Told>;

const InUnit = z.object({ low: z.number(), high: z.number(), unit: z.string() });

/** A value at one place; `instance` is null where nobody can tell which of them it is. */
export const ValueAt = z.object({
  instance: z.string().nullable(),
  said: z.string(),
  /** In the measure's unit (UCUM); left out for gauges of spoken steps. */
  inUnit: InUnit.optional(),
});
export type ValueAt = z.infer<typeof ValueAt>;

/** What a reviewer said of a check or a finding: beside what was recorded, never over it. */
export const Review = z.object({
  by: z.string(),
  /** What it should be: "skipped", "about no check", "about the upper bearing". */
  says: z.string(),
  note: z.string(),
  event: z.string(),
});
export type Review = z.infer<typeof Review>;

/** "A. Reed: skipped. It was the other one." */
export function reviewWords({ by, says, note }: Review): string {
  const ended = note === '' || /[.!?]$/.test(note) ? note : `${note}.`;
  return `${by === '' ? 'Reviewer' : by}: ${says}.${ended === '' ? '' : ` ${ended}`}`;
}

export const CheckCoverage = z.object({
  check: z.string(),
  station: z.string(),
  standing: Standing,
  required: Required,
  missing: z.object({
    aspects: z.array(z.object({ instance: z.string(), aspect: z.string() })),
    instances: z.array(z.string()),
    measures: z.array(z.object({ instance: z.string(), measure: z.string() })),
    acts: z.array(Act),
  }),
  reasons: z.array(Reason),
  /** Statements that count for it, oldest first. */
  statements: z.array(z.string()),
  /** Whether it was explained, done or reported, in whose words; left out by older versions. */
  told: Told.optional(),
  /** What was measured, the last of each place; left out: nothing, or by an older version. */
  measured: z.array(ValueAt.extend({ measure: z.string() })).optional(),
  /** Something of it was answered by touch, without a word; left out: nothing was. */
  touched: z.boolean().optional(),
  /** What a reviewer said it should be, beside what it is. */
  reviewed: Standing.nullable(),
  /** Every review of it, oldest first; left out where there is none. */
  reviews: z.array(Review).optional(),
});
export type CheckCoverage = z.infer<typeof CheckCoverage>;

/** An asserted abnormal condition or an out-of-limits value (R3, R4, R8). */
export const Finding = z.object({
  /** Id of the statement that first asserted it. */
  id: z.string(),
  statements: z.array(z.string()),
  events: z.array(z.string()),
  check: z.string().nullable(),
  instances: z.array(z.string()),
  /** Part as said, for an unplaced finding. */
  part: z.string().nullable(),
  conditions: z.array(
    z.object({
      condition: z.string(),
      sign: z.string().nullable(),
      degree: z.enum(['slight', 'moderate', 'severe']).nullable(),
      extent: z.object({ count: z.number(), of: z.number().nullable() }).nullable(),
      place: z.string().nullable(),
      /** "about an inch", as said. */
      size: z.string().nullable().optional(),
    }),
  ),
  value: z
    .object({
      measure: z.string(),
      said: z.string(),
      limit: z.string(),
      /** In the measure's unit (UCUM); left out by older versions and for gauges of spoken steps. */
      inUnit: InUnit.optional(),
      /** Of a row of values each that lies outside its limit; left out: there is this one. */
      each: z.array(ValueAt).optional(),
    })
    .nullable(),
  severity: Severity.nullable(),
  /** Where the severity comes from. */
  severityBy: z.enum(['said', 'sign', 'measure', 'before', 'none']),
  /** For `before`: the day on which this speaker rated the same fault so, as "2026-01-05". */
  ratedOn: z.string().optional(),
  suggests: z.string().nullable(),
  words: z.string(),
  /** Taken back or contradicted later: shown, never erased (R6). */
  settled: z.enum(['stands', 'in-question', 'taken-back']),
  /** It happened to the aircraft, such as a hard landing, and has no check to be placed at. */
  happened: z.boolean().optional(),
  /** Words that said that maintenance has cleared it; what it demanded is demanded no more. */
  cleared: z.string().optional(),
  reasons: z.array(Reason),
  /** Every review of a statement in it, oldest first; left out where there is none. */
  reviews: z.array(Review).optional(),
  /** Pictures of it, oldest first; left out where there is none. */
  pictures: z.array(Picture).optional(),
});
export type Finding = z.infer<typeof Finding>;

/** Something about how the walk went. */
export const Remark = z.object({
  kind: z.enum([
    'out-of-order',
    'too-fast',
    'long-silence',
    'held',
    'not-completed',
    'from-memory',
    'value-missing',
  ]),
  text: z.string(),
  station: z.string().nullable(),
  checks: z.array(z.string()),
  /** Seconds since the walk began. */
  from: z.number().nullable(),
  to: z.number().nullable(),
  events: z.array(z.string()),
});
export type Remark = z.infer<typeof Remark>;

export const StationTime = z.object({
  station: z.string(),
  from: z.number().nullable(),
  /** Seconds spent there, holds left out. */
  seconds: z.number(),
});
export type StationTime = z.infer<typeof StationTime>;

/** Something that has to be settled, worst first. */
export const OpenItem = z.object({
  kind: z.enum(['finding-unplaced', 'finding-unrated', 'question', 'part', 'unspoken']),
  check: z.string().nullable(),
  station: z.string().nullable(),
  finding: z.string().nullable(),
  question: z.string().nullable(),
  /** As it is spoken, such as "Drive belts: slack not said". */
  text: z.string(),
});
export type OpenItem = z.infer<typeof OpenItem>;

export const Coverage = z.object({
  v: z.literal(1),
  walk: z.string().nullable(),
  catalogue: z.string(),
  edition: z.string().nullable(),
  aircraft: z.string().nullable(),
  finished: z.boolean(),
  held: z.boolean(),
  station: z.string().nullable(),
  lastCompleted: z.string().nullable(),
  circumstances: z.array(Circumstance),
  /** Every check of the catalogue, in walking order. */
  checks: z.array(CheckCoverage),
  findings: z.array(Finding),
  questions: z.array(Question),
  /** What is left, worst first, follow-ups before the rest. */
  open: z.array(OpenItem),
  remarks: z.array(Remark),
  times: z.array(StationTime),
  /** What could not be used, one sentence each; it stays in the log. */
  oddities: z.array(Reason),
  decision: z
    .object({
      decision: z.string(),
      by: z.string(),
      authority: z.string().nullable(),
      note: z.string().nullable(),
    })
    .nullable(),
  signed: z.object({ name: z.string(), certificate: z.string().nullable() }).nullable(),
  /** Thrown away before it was finished; left out: it was not. */
  discarded: z.object({ why: z.string().nullable() }).optional(),
});
export type Coverage = z.infer<typeof Coverage>;

export const CoverageFormat: Format<typeof Coverage> = {
  name: 'coverage',
  version: 1,
  schema: Coverage,
  upcasters: {},
};
