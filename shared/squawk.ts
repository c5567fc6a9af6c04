import { z } from 'zod';
import type { Format } from './format.ts';
import { SoundPlace } from './heard.ts';
import { Severity } from './severity.ts';

/** What is wrong, as it was said. Nothing in it may be invented. */
export const Fault = z.object({
  /** The words as said, always kept. */
  words: z.string(),
  check: z.string().nullable(),
  /** The part as the catalogue or the speaker calls it; null when it could not be told. */
  part: z.string().nullable(),
  /** Side or place, such as "left" or "second". */
  side: z.string().nullable(),
  position: z.string().nullable(),
  conditions: z.array(
    z.object({
      condition: z.string(),
      sign: z.string().nullable(),
      degree: z.enum(['slight', 'moderate', 'severe']).nullable(),
      extent: z.object({ count: z.number(), of: z.number().nullable() }).nullable(),
      words: z.string(),
    }),
  ),
  value: z
    .object({
      measure: z.string().nullable(),
      said: z.string(),
      inUnit: z.number().nullable(),
      unit: z.string().nullable(),
      limit: z.string().nullable(),
      /** Of a row of values each that lies outside its limit; left out: there is this one. */
      each: z
        .array(
          z.object({
            /** null: nobody can tell which of them it is. */
            instance: z.string().nullable(),
            said: z.string(),
            inUnit: z.number().nullable(),
          }),
        )
        .optional(),
    })
    .nullable(),
  severity: Severity.nullable(),
  /**
   * Whether the reporter said the severity, the catalogue proposes it, or it is how the
   * reporter rated the same fault before; older squawks do not say.
   */
  severityBy: z.enum(['said', 'catalogue', 'before']).optional(),
});
export type Fault = z.infer<typeof Fault>;

/** Each step of a squawk's life is an event (none is skipped silently). */
export const SquawkStep = z.discriminatedUnion('step', [
  z.object({
    step: z.literal('opened'),
    aircraft: z.string(),
    fault: Fault,
    /** Statement it came from, when it was said on a walk; otherwise the heard utterance. */
    statement: z.string().nullable(),
    heard: z.string().nullable(),
    sound: SoundPlace.nullable(),
    reporter: z.string().nullable(),
    /** How and when found: "pre-flight walk", "in flight", … as said. */
    found: z.string().nullable(),
    hours: z.number().nullable(),
    /** Catalogue that its words were read with; null: none is its own. Left out: said on a walk, or older. */
    catalogue: z.string().nullable().optional(),
    /** Already on the aircraft when Talkround began to keep its squawks. */
    legacy: z.boolean(),
  }),
  /** Said again: extent or severity may have changed. */
  z.object({
    step: z.literal('amended'),
    fault: Fault,
    statement: z.string().nullable(),
    compared: z.enum(['same', 'worse', 'better']).nullable(),
    by: z.string().nullable(),
  }),
  z.object({ step: z.literal('jasc-confirmed'), code: z.string(), by: z.string() }),
  z.object({
    step: z.literal('deferred'),
    by: z.string(),
    authority: z.string(),
    untilDate: z.string().nullable(),
    untilHours: z.number().nullable(),
    untilFlights: z.number().int().nullable(),
    placarded: z.boolean(),
    note: z.string().nullable(),
  }),
  z.object({
    step: z.literal('rectified'),
    by: z.string(),
    certificate: z.string(),
    certificateKind: z.string(),
    reference: z.string(),
    date: z.string(),
  }),
  z.object({
    step: z.literal('rechecked'),
    by: z.string().nullable(),
    statement: z.string().nullable(),
    outcome: z.enum(['gone', 'still-there', 'worse']),
  }),
  /** Corrected by a person: what is wrong is told anew; the earlier telling stays in its history. */
  z.object({
    step: z.literal('corrected'),
    fault: Fault,
    by: z.string(),
    note: z.string().nullable(),
  }),
  /** Something more about it, in words. */
  z.object({ step: z.literal('noted'), by: z.string(), note: z.string() }),
  /** It was no fault, or another's: said by a person, with the reason. */
  z.object({ step: z.literal('withdrawn'), by: z.string(), reason: z.string() }),
  z.object({ step: z.literal('closed'), by: z.string(), note: z.string().nullable() }),
  /** Two squawks are the same fault, said so by a person. */
  z.object({ step: z.literal('joined'), into: z.string(), by: z.string() }),
]);
export type SquawkStep = z.infer<typeof SquawkStep>;

export const SquawkState = z.enum([
  'open',
  'deferred',
  'rectified',
  'rechecked',
  'closed',
  'joined',
  'withdrawn',
]);
export type SquawkState = z.infer<typeof SquawkState>;

/** A finding written up against the aircraft: the fold of its steps. */
export const Squawk = z.object({
  v: z.literal(1),
  id: z.string(),
  aircraft: z.string(),
  state: SquawkState,
  fault: Fault,
  opened: z.number(),
  hours: z.number().nullable(),
  reporter: z.string().nullable(),
  found: z.string().nullable(),
  jasc: z.string().nullable(),
  /** Every step with the time and event it came from, oldest first. */
  history: z.array(z.object({ event: z.string(), at: z.number(), step: SquawkStep })),
  /** What is irregular in its life, one sentence each, such as a step that was left out. */
  irregular: z.array(z.string()),
});
export type Squawk = z.infer<typeof Squawk>;

export const SquawkFormat: Format<typeof Squawk> = {
  name: 'squawk',
  version: 1,
  schema: Squawk,
  upcasters: {},
};
