import { z } from 'zod';
import { Act } from './catalogue.ts';
import { Circumstance } from './circumstance.ts';
import type { Format } from './format.ts';
import { Severity } from './severity.ts';

/**
 * What the words mean. Only force "result" may ever speak for a check or make
 * a finding (R2).
 */
export const Force = z.enum([
  'result',
  'intention',
  'teaching',
  'hypothesis',
  'question',
  'past',
  'hearsay',
]);
export type Force = z.infer<typeof Force>;

/** The words a statement rests on: positions [from, to) in the utterance's words. */
export const Span = z.object({ from: z.number().int(), to: z.number().int(), words: z.string() });
export type Span = z.infer<typeof Span>;

/** A check that might be meant. Score 0 to 1; `how` says why in plain words. */
export const Candidate = z.object({
  check: z.string(),
  instances: z.array(z.string()),
  score: z.number(),
  how: z.string(),
});
export type Candidate = z.infer<typeof Candidate>;

/**
 * Which places of a repeated check are meant.
 *
 * - named: these instances, by name or by being counted
 * - all: "both", "all three", "each"
 * - plural: the plural alone, without a number ("brake lines")
 * - one: said once without saying which ("rivet line"); counts as one more
 */
export const Which = z.object({
  how: z.enum(['named', 'all', 'plural', 'one']),
  instances: z.array(z.string()),
});
export type Which = z.infer<typeof Which>;

/** What a statement is about. */
export const About = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('check'), check: z.string(), which: Which, span: Span.nullable() }),
  /** A blanket: one verdict over a station, less what the speaker excepted. */
  z.object({
    kind: z.literal('station'),
    station: z.string(),
    except: z.array(z.string()),
    span: Span.nullable(),
  }),
  /** Something on the aircraft, but which check is not clear; `part` is what was said. */
  z.object({ kind: z.literal('unplaced'), part: z.string(), span: Span.nullable() }),
]);
export type About = z.infer<typeof About>;

/** One condition, said to be present or absent (R3). */
export const ConditionSaid = z.object({
  /** Id of the condition in the lexicon, such as "crack". */
  condition: z.string(),
  /** Sign of the catalogue that it means at this check, where there is one. */
  sign: z.string().nullable(),
  /** Aspects of the check that it speaks about. */
  aspects: z.array(z.string()),
  present: z.boolean(),
  /** slight, moderate or severe; null when not said. */
  degree: z.enum(['slight', 'moderate', 'severe']).nullable(),
  /** "two of six": count 2, of 6. */
  extent: z.object({ count: z.number(), of: z.number().nullable() }).nullable(),
  /** "two inches aft of the second bracket", as said. */
  place: z.string().nullable(),
  /** "about an inch", as said; left out when not said. */
  size: z.string().nullable().optional(),
  /** How bad it usually is where the catalogue does not say: proposed, and not asked. Common practice, no source. */
  usual: Severity.optional(),
  /** It happened to the whole aircraft, and the catalogue has no sign for it. */
  happened: z.literal(true).optional(),
  span: Span,
});
export type ConditionSaid = z.infer<typeof ConditionSaid>;

/** A general verdict and the aspects it speaks for. */
export const Verdict = z.object({
  good: z.boolean(),
  aspects: z.array(z.string()),
  /** true for "checked", "done": says that the act was made, not what was found. */
  actOnly: z.boolean(),
  span: Span,
});
export type Verdict = z.infer<typeof Verdict>;

/** A value as said, and in the unit of the measure it belongs to. */
export const ValueSaid = z.object({
  measure: z.string().nullable(),
  /** As said; both ends of "between six and seven", or twice the same. */
  low: z.number().nullable(),
  high: z.number().nullable(),
  /** UCUM code as said; null when no unit was said. */
  unit: z.string().nullable(),
  /** In the measure's unit; null when that cannot be told. */
  inUnit: z.object({ low: z.number(), high: z.number(), unit: z.string() }).nullable(),
  /** Step of the gauge, lowest 0; halves for "between" and "just past". */
  step: z.object({ gauge: z.string(), index: z.number(), name: z.string() }).nullable(),
  approximate: z.boolean(),
  /** Why it cannot be used as it stands (R8). */
  trouble: z.enum(['no-unit', 'wrong-unit', 'no-measure']).nullable(),
  /** Nobody said the unit: it is the only one that this can be in, or the one said before. */
  supplied: z.boolean().optional(),
  span: Span,
});
export type ValueSaid = z.infer<typeof ValueSaid>;

const Common = {
  v: z.literal(1),
  id: z.string(),
  heard: z.string(),
  span: Span,
  /** Why it was read so, a line a step, for `talkround explain` and the sheet. */
  why: z.array(z.string()),
};

/** Something said about the aircraft. */
export const Observation = z.object({
  ...Common,
  kind: z.literal('observation'),
  force: Force,
  about: About,
  candidates: z.array(Candidate),
  verdict: Verdict.nullable(),
  conditions: z.array(ConditionSaid),
  values: z.array(ValueSaid),
  acts: z.array(Act),
  severity: Severity.nullable(),
  /** Id of an earlier statement that this one amends (R6), by correction or as the answer to a question. */
  amends: z.string().nullable(),
  /** Id of the question that it answers. */
  answers: z.string().nullable(),
  /** Compared with an open squawk: "same as before", "it's grown", "it's gone". */
  compared: z.enum(['same', 'worse', 'better', 'gone']).nullable(),
  /** Dictated as a squawk: "squawk, left main tyre …". */
  squawk: z.boolean(),
  /** The speaker's doubt or an odd polarity ("not not secure"): ask, do not count. */
  doubtful: z.string().nullable(),
  /** Words of it that nobody knew, beside what it names: what an answer tells of them is learned. */
  own: z.string().optional(),
  /** The doubt may wait until the station is left: it is not worth a breath before. */
  waits: z.boolean().optional(),
  /** How bad this speaker called the same fault before: proposed, and not asked. */
  usual: z
    .object({
      severity: Severity,
      /** The day of it, as "2026-01-05". */
      on: z.string(),
    })
    .optional(),
  /** How sure the reader was, 0 to 1; left out where it is not a learned score. */
  sure: z.number().min(0).max(1).optional(),
});
export type Observation = z.infer<typeof Observation>;

/** What `why` says of a statement that a touch made, on this version and all before it. */
export const BY_TOUCH = 'Set by touch.';

export const CommandName = z.enum([
  'begin',
  'hold',
  'resume',
  'finish',
  'discard',
  'left',
  'left-here',
  'where',
  'read-back',
  'next',
  'repeat',
  'yes',
  'no',
  'help',
]);
export type CommandName = z.infer<typeof CommandName>;

/** An order to Talkround. Only when it stood alone or after a pause. */
export const Command = z.object({
  ...Common,
  kind: z.literal('command'),
  command: CommandName,
  /** A hold that asks for a moment only ("hang on"): the next plain result goes on by itself. */
  moment: z.literal(true).optional(),
});
export type Command = z.infer<typeof Command>;

/** The severity of the latest finding, said by itself: "ground it". */
export const Rating = z.object({
  ...Common,
  kind: z.literal('rating'),
  severity: Severity,
  /** Statement whose finding is rated; null for the latest. */
  of: z.string().nullable(),
});
export type Rating = z.infer<typeof Rating>;

/** "Take that back": an earlier statement no longer counts. It stays in the log (R6). */
export const Retraction = z.object({
  ...Common,
  kind: z.literal('retraction'),
  of: z.string(),
  /** The words that were taken back, to be said again; older ones do not have them. */
  words: z.string().optional(),
  /** Id of the question that was answered with "nothing"; left out: it was taken back unasked. */
  nothing: z.string().optional(),
});
export type Retraction = z.infer<typeof Retraction>;

/**
 * "Maintenance has cleared it": what happened to the aircraft demands nothing more. Kept as
 * said: whether it is so is not Talkround's to know (R9).
 */
export const Clearance = z.object({ ...Common, kind: z.literal('clearance'), of: z.string() });
export type Clearance = z.infer<typeof Clearance>;

/** "Skip this, it isn't fitted." */
export const SetAside = z.object({
  ...Common,
  kind: z.literal('set-aside'),
  check: z.string(),
  instances: z.array(z.string()),
  reason: z.string(),
});
export type SetAside = z.infer<typeof SetAside>;

/** "First flight of the day", "it's not night". */
export const CircumstanceSaid = z.object({
  ...Common,
  kind: z.literal('circumstance'),
  circumstance: Circumstance,
  holds: z.boolean(),
});
export type CircumstanceSaid = z.infer<typeof CircumstanceSaid>;

/** "Now the tail boom": where the speaker is. Not a result. */
export const Arrival = z.object({ ...Common, kind: z.literal('arrival'), station: z.string() });
export type Arrival = z.infer<typeof Arrival>;

/**
 * Two or more checks fit about as well (R5). `said` is the observation as it
 * would stand once the question is answered.
 */
export const TwoCandidates = z.object({
  ...Common,
  kind: z.literal('two-candidates'),
  candidates: z.array(Candidate).min(2),
  said: Observation,
});
export type TwoCandidates = z.infer<typeof TwoCandidates>;

/**
 * Words that carry no statement. `chatter`: talk that is not about a check.
 * Otherwise it sounded like a result or a finding and could not be read (R5).
 */
export const NotUnderstood = z.object({
  ...Common,
  kind: z.literal('not-understood'),
  chatter: z.boolean(),
});
export type NotUnderstood = z.infer<typeof NotUnderstood>;

export const Statement = z.discriminatedUnion('kind', [
  Observation,
  Command,
  Rating,
  Retraction,
  Clearance,
  SetAside,
  CircumstanceSaid,
  Arrival,
  TwoCandidates,
  NotUnderstood,
]);
export type Statement = z.infer<typeof Statement>;

export const StatementFormat: Format<typeof Statement> = {
  name: 'statement',
  version: 1,
  schema: Statement,
  upcasters: {},
};
