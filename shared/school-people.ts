import { z } from 'zod';
import { Instant } from './instant.ts';
import { Learned } from './phrasebook.ts';

/** An aircraft of the school, as every device has it. */
export const SchoolAircraft = z.object({
  id: z.string(),
  name: z.string(),
  /** Names that it had before: what was said under them is its own. */
  was: z.array(z.string()),
  /** Id of the catalogue that it is walked with. */
  catalogue: z.string(),
  /** No walk of it is offered any more; its record stays. */
  retired: z.boolean(),
});
export type SchoolAircraft = z.infer<typeof SchoolAircraft>;

/** A measured value at its limit or near it, the last that was said of it. */
export const NearLimit = z.object({
  /** "left drive belt: play". */
  name: z.string(),
  value: z.number(),
  /** UCUM code; null for a gauge. */
  unit: z.string().nullable(),
  low: z.number().nullable(),
  high: z.number().nullable(),
  past: z.boolean(),
  /** When it was measured, milliseconds since 1970. */
  at: z.number(),
});
export type NearLimit = z.infer<typeof NearLimit>;

/** An aircraft as the desk has it: what of its walks says how it stands, and not a word of them. */
export const FleetLine = SchoolAircraft.extend({
  last: z
    .object({ begun: z.number(), state: z.enum(['walking', 'finished', 'signed']) })
    .nullable(),
  near: z.array(NearLimit),
});
export type FleetLine = z.infer<typeof FleetLine>;

/** What was learned elsewhere in the school and may be told to whoever asks: an offer, and never more. */
export const PhrasePage = z.object({
  phrases: z.array(
    z.object({
      aircraft: z.string(),
      learned: Learned.extend({ at: Instant }),
      /** When whoever told it forgot it; null: it counts there. */
      forgotten: Instant.nullable(),
    }),
  ),
  /** Ids of what was erased, whoever told it. */
  erased: z.array(z.string()),
  /** What was had before is no more to be told: begin anew. */
  anew: z.boolean(),
  cursor: z.string(),
  more: z.boolean(),
});
export type PhrasePage = z.infer<typeof PhrasePage>;
