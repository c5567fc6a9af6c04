import { z } from 'zod';
import { Circumstance } from './circumstance.ts';
import { Severity } from './severity.ts';

/**
 * The catalogue: everything that has to be checked on one type of aircraft, in
 * walking order, as a chief instructor writes it in YAML. The schema accepts
 * the short forms of the author and gives the full form to the program.
 */

const Id = z
  .string()
  .regex(
    /^[a-z0-9]+(-[a-z0-9]+)*$/,
    'an id is lower-case words joined by hyphens, like "left-brake-line"',
  )
  .max(80)
  .meta({ description: 'Lower-case words joined by hyphens; never changed once it is in use.' });
const Words = z.string().trim().min(1).max(200);
const Say = z.array(Words).default([]).meta({ description: 'Other names that people say for it.' });
const Source = z.string().max(500).meta({
  description:
    'Where the requirement comes from. A fact of the trade without a source is marked "common practice, no source".',
});

/** Authors write the code without quotes, and YAML makes that a number. */
const Jasc = z
  .union([z.string(), z.number().int()])
  .transform(String)
  .meta({ description: 'FAA JASC code, such as 6210 for main rotor blades.' });

/** How a check is done. */
export const Act = z
  .enum(['look', 'feel', 'move', 'measure', 'listen'])
  .meta({ description: 'How a check is done.' });
export type Act = z.infer<typeof Act>;

/** A part of a check that must be spoken for by itself. Short form: its name. */
export const Aspect = z
  .union([
    Words,
    z.strictObject({
      id: Id.optional(),
      name: Words,
      say: Say,
      conditions: z.array(Id).default([]).meta({
        description: 'Condition words (by id in the lexicon) that speak about this aspect.',
      }),
    }),
  ])
  .transform((a) =>
    typeof a === 'string'
      ? { id: idOf(a), name: a, say: [], conditions: [] }
      : { id: a.id ?? idOf(a.name), name: a.name, say: a.say, conditions: a.conditions },
  );
export type Aspect = z.infer<typeof Aspect>;

/** A spoken name turned into an id: "Level and colour" becomes "level-and-colour". */
export function idOf(name: string): string {
  return name
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '');
}

/**
 * How often a check has to be made, and what each place is called.
 *
 * Short forms: `3` is three places said in turn ("1", "2", "3");
 * `[left, right]` names them.
 */
export const Repeat = z
  .union([
    z.number().int().min(1).max(40),
    z.array(Words).min(1).max(40),
    z.strictObject({
      of: z.union([z.number().int().min(1).max(40), z.array(Words).min(1).max(40)]),
      sides: z.array(Words).min(1).max(8).optional().meta({
        description:
          'The same number on each of these sides: sides [left, right] of 2 are four places.',
      }),
      plural: z.boolean().default(false).meta({
        description:
          'true: the plural alone ("brake lines good") speaks for all of them. Otherwise "both", "all", a number or each name is needed.',
      }),
    }),
    // The full form, so that a catalogue that was kept by its edition reads as itself.
    z.strictObject({ instances: z.array(Words).min(1).max(320), plural: z.boolean() }),
  ])
  .transform((r) => {
    if (typeof r === 'object' && 'instances' in r) return r;
    const full =
      typeof r === 'number' || Array.isArray(r) ? { of: r, sides: undefined, plural: false } : r;
    const places = Array.isArray(full.of)
      ? full.of
      : Array.from({ length: full.of }, (_, i) => String(i + 1));
    const instances =
      full.sides === undefined
        ? places
        : full.sides.flatMap((side) =>
            places.length === 1 ? [side] : places.map((place) => `${side} ${place}`),
          );
    return { instances, plural: full.plural };
  });
export type Repeat = z.infer<typeof Repeat>;

/** Something that is measured, in a unit between limits or on a gauge of spoken steps. */
export const Measure = z.strictObject({
  id: Id,
  name: Words,
  say: Say,
  unit: z
    .string()
    .max(40)
    .optional()
    .meta({ description: 'UCUM code: "[qt_us]", "[psi]", "[in_i]", "Cel", "V", "[gal_us]".' }),
  low: z.number().optional().meta({ description: 'Lowest value within limits, in the unit.' }),
  high: z.number().optional().meta({ description: 'Highest value within limits, in the unit.' }),
  gauge: Id.optional().meta({ description: 'A gauge of this catalogue, instead of a unit.' }),
  atLeast: Words.optional().meta({ description: 'Lowest step of the gauge within limits.' }),
  atMost: Words.optional().meta({ description: 'Highest step of the gauge within limits.' }),
  severity: Severity.default('ground').meta({
    description: 'Severity of a value outside its limits.',
  }),
  suggests: z.string().max(500).optional(),
  followUps: z.array(Id).default([]),
  source: Source.optional(),
});
export type Measure = z.infer<typeof Measure>;

/** An ordered scale said in words, lowest step first. */
export const Gauge = z.strictObject({
  id: Id,
  name: Words,
  steps: z
    .array(
      z
        .union([Words, z.strictObject({ name: Words, say: Say })])
        .transform((s) => (typeof s === 'string' ? { name: s, say: [] as string[] } : s)),
    )
    .min(2)
    .max(30),
});
export type Gauge = z.infer<typeof Gauge>;

/** A condition that can be found, what it suggests and what it demands. */
export const Sign = z.strictObject({
  id: Id,
  name: Words,
  say: Say,
  conditions: z.array(Id).default([]).meta({
    description: 'Condition words (by id in the lexicon) that mean this sign at its check.',
  }),
  severity: Severity.optional().meta({ description: 'Left out: the speaker is asked.' }),
  suggests: z.string().max(500).optional().meta({ description: 'What it may mean.' }),
  followUps: z
    .array(Id)
    .default([])
    .meta({ description: 'Checks that become required when this is found.' }),
  caution: z.string().max(500).optional().meta({ description: 'Read out when it is found.' }),
  anywhere: z.boolean().default(false).meta({
    description: 'true: may be reported without naming a check, such as "we had a hard landing".',
  }),
  jasc: Jasc.optional(),
  source: Source.optional(),
});
export type Sign = z.infer<typeof Sign>;

/** One required act at a station, on one thing. */
export const Check = z.strictObject({
  id: Id,
  name: Words,
  say: Say,
  pronounce: z.record(z.string(), z.string()).default({}).meta({
    description:
      'Pronunciation where spelling misleads: a word of a name, then its phones in ARPABET, such as "swashplate: S W AA SH P L EY T".',
  }),
  aspects: z.array(Aspect).max(12).default([]).meta({
    description:
      'Parts that must each be spoken for. Left out: any asserted result that names the check speaks for it.',
  }),
  acts: z.array(Act).default(['look']).meta({
    description: 'When only looking is said of a check that asks for more, it is part spoken.',
  }),
  repeat: Repeat.optional().meta({
    description: '3, or [left, right], or { of: 2, sides: [left, right], plural: true }.',
  }),
  required: z
    .union([z.literal('always'), z.literal('follow-up'), z.array(Circumstance).min(1)])
    .default('always')
    .meta({
      description:
        '"always"; a list of circumstances, any of which makes it required; or "follow-up": only when a sign demands it.',
    }),
  blanket: z.boolean().default(false).meta({
    description:
      'true: "everything on the tail boom is good" speaks for it. Otherwise it asks to be named.',
  }),
  optional: z.boolean().default(false).meta({
    description: 'true: may be set aside as not fitted.',
  }),
  // No default: an edition that was kept before this field stays what it was.
  mandatory: z.boolean().optional().meta({
    description:
      'true: a safety item, such as the magnetos off; confirmed aloud as such when it is spoken for.',
  }),
  signs: z
    .array(z.union([Id, Sign]))
    .default([])
    .meta({ description: 'Signs of the catalogue by id, or signs of this check alone.' }),
  measures: z.array(Measure).max(8).default([]).meta({
    description: 'Values that have to be said; one outside its limits is a finding.',
  }),
  caution: z.string().max(500).optional().meta({ description: 'Read out before the act.' }),
  jasc: Jasc.optional(),
  source: Source.optional(),
});
export type Check = z.infer<typeof Check>;

/** One stop on the walk. */
export const Station = z.strictObject({
  id: Id,
  name: Words,
  say: Say,
  place: z
    .strictObject({ x: z.number().min(0).max(100), y: z.number().min(0).max(100) })
    .meta({ description: 'On the plan drawing: x 0 left to 100 right, y 0 nose to 100 tail.' }),
  inOrder: z
    .boolean()
    .default(false)
    .meta({ description: 'true: its checks are done in this order.' }),
  caution: z.string().max(500).optional().meta({ description: 'Read out on arrival.' }),
  checks: z.array(Check).min(1),
});
export type Station = z.infer<typeof Station>;

/** Who changed the catalogue, when and why. */
export const Change = z.strictObject({
  version: z.number().int().min(1),
  by: Words.meta({ description: 'Who changed it.' }),
  on: z
    .string()
    .regex(/^\d{4}-\d{2}-\d{2}$/, 'a day is written like "2026-01-05"')
    .meta({ description: 'The day, as "2026-01-05".' }),
  why: z.string().trim().min(1).max(500).meta({ description: 'Why it was changed.' }),
});
export type Change = z.infer<typeof Change>;

export const Catalogue = z.strictObject({
  v: z.literal(1).meta({ description: 'Format of this file.' }),
  id: Id,
  name: Words,
  kind: z
    .enum(['helicopter', 'aeroplane', 'glider', 'gyroplane', 'other'])
    .meta({ description: 'Picks the plan drawing.' }),
  notice: z.string().max(500).optional().meta({ description: 'Shown on every sheet.' }),
  source: Source.optional(),
  licence: z.string().max(200).optional().meta({
    description: 'On what terms it may be given away, such as "CC BY 4.0".',
  }),
  // No defaults: an edition that was kept before these fields stays what it was.
  version: z.number().int().min(1).max(100_000).optional().meta({
    description: 'Counts up with each edition that is given out.',
  }),
  history: z
    .array(Change)
    .max(1000)
    .optional()
    .meta({ description: 'Who changed what and why, the latest last.' }),
  language: z.string().default('en').meta({ description: 'Language of the names: "en".' }),
  inOrder: z
    .boolean()
    .default(false)
    .meta({ description: 'true: the stations are walked in this order.' }),
  cautions: z
    .array(z.string().max(500))
    .default([])
    .meta({ description: 'Shown and read out before the walk.' }),
  gauges: z.array(Gauge).default([]).meta({ description: 'Scales said in words.' }),
  signs: z.array(Sign).default([]).meta({
    description: 'Signs that several checks name by id, or that may be told anywhere.',
  }),
  stations: z.array(Station).min(1).meta({ description: 'In walking order.' }),
});
/** The full form, after defaults and short forms. */
export type Catalogue = z.infer<typeof Catalogue>;
/** The form an author may write. */
export type CatalogueInput = z.input<typeof Catalogue>;

/** The one instance of a check that is made once. */
export const ONCE = 'once';

/** The places at which a check has to be made, in order; `['once']` when it does not repeat. */
export function instancesOf(check: Check): readonly string[] {
  return check.repeat?.instances ?? [ONCE];
}

/** The signs that may be found at a check, in full: its own, and those of the catalogue that it names. */
export function signsOf(catalogue: Catalogue, check: Check): readonly Sign[] {
  return check.signs.flatMap((sign) =>
    typeof sign === 'string' ? catalogue.signs.filter((s) => s.id === sign) : [sign],
  );
}
