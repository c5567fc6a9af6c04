import { parse } from 'yaml';
import { z } from 'zod';
import { Act } from '#shared/catalogue';
import { Circumstance } from '#shared/circumstance';
import { Severity } from '#shared/severity';
import { CommandName } from '#shared/statement';

/**
 * The lexicon of one language: data that a non-programmer can extend, one file a
 * kind of word in its own folder (`en/`). Read once and checked on load.
 */
const Say = z.array(z.coerce.string());
const Id = z.string().regex(/^[a-z0-9]+(-[a-z0-9]+)*$/);

/** A row of phrases written as one text, parted by commas: for long lists. */
const Row = z.string().transform((text) =>
  text
    .split(',')
    .map((phrase) => phrase.trim())
    .filter((phrase) => phrase !== ''),
);

export const ConditionEntry = z.strictObject({
  id: Id,
  aspects: z.array(Id),
  severity: Severity.optional(),
  say: Say,
  weak: Say.default([]),
  also: Row.default([]),
  either: Row.default([]),
  cannot: Row.default([]),
});
export type ConditionEntry = z.infer<typeof ConditionEntry>;

export const VerdictEntry = z.strictObject({
  id: Id,
  good: z.boolean(),
  aspect: Id.optional(),
  opposite: Id,
  actOnly: z.boolean().default(false),
  say: Say,
  weak: Say.default([]),
  also: Row.default([]),
  beside: Row.default([]),
});
export type VerdictEntry = z.infer<typeof VerdictEntry>;

const AspectEntry = z.strictObject({ id: Id, names: Say });
const UnitEntry = z.strictObject({ code: z.array(z.string()).min(1), say: Say });

export const FORCE_CUES = [
  'intention',
  'topic',
  'teaching',
  'hypothesis',
  'question',
  'past',
  'hearsay',
  'present',
  'doubt',
  'tense',
] as const;
export type ForceCue = (typeof FORCE_CUES)[number];

/** Kinds of little words that hold a sentence together. */
export const JOINTS = [
  'contrast',
  'link',
  'lead',
  'subject',
  'copula',
  'place',
  'pronoun',
  'near',
  'remark',
  'opening',
  'opener',
  'opener-pause',
  'slip',
  'aside',
  'slip-skip',
  'hesitation',
  'stammer',
  'order',
  'start',
  'like-good',
  'like-is',
  'after-verdict',
  'like-not',
  'exception',
  'beside',
  'echo-tail',
  'before-state',
  'place-row',
  'trying',
  'came-to',
  'moving',
  'empty',
  'denies',
  'joining',
  'wanted',
  'whole',
  'removable',
  'unended',
  'belongs',
  'spread',
  'substance',
  'as-well',
  'both-sides',
  'carrier',
] as const;
export type Joint = (typeof JOINTS)[number];

/** Lists of words that answers are read by: what they say, and what may stand beside it. */
export const ANSWER_WORDS = [
  'nothing',
  'harmless',
  'harmlesslead',
  'beside',
  'yes',
  'detail',
  'part',
  'long',
  'away',
  'amount',
  'where-beside',
  'where',
  'no-lead',
  'placing',
  'every',
  'recap-good',
  'recap-no',
  'but',
  'only',
  'takeback',
  'fault-beside',
  'fault-none',
  'fault-all',
  'each',
  'several',
  'which',
  'well',
  'ill',
  'degree-beside',
  'unknown-beside',
  'hesitating',
  'subject',
  'states',
  'between',
  'sound',
  'faultless',
  'recheck-beside',
  'empty',
  'nothing-beside',
  'one-before',
  'clears',
  'cleared',
  'not-cleared',
  'unsettled',
  'denies',
  'none-of-them',
  'before-answer',
  'courtesy',
  'aside-verb',
  'aside',
] as const;
export type AnswerWord = (typeof ANSWER_WORDS)[number];

const FILES = {
  conditions: z.array(ConditionEntry),
  verdicts: z.array(VerdictEntry),
  aspects: z.array(AspectEntry),
  negation: z.strictObject({
    before: Say,
    after: Say,
    prose: Say,
    pseudo: Say,
    end: Say,
    light: Say,
  }),
  force: z.strictObject(
    Object.fromEntries(FORCE_CUES.map((cue) => [cue, Say])) as Record<ForceCue, typeof Say>,
  ),
  joints: z.strictObject(
    Object.fromEntries(JOINTS.map((kind) => [kind, Say])) as Record<Joint, typeof Say>,
  ),
  severities: z.record(Severity, Say),
  ratings: z.record(Severity, Say),
  degrees: z.strictObject({ slight: Say, moderate: Say, severe: Say }),
  sides: z.strictObject({
    sides: z.record(z.string(), Say),
    opposites: z.array(Say),
    ordinals: z.array(Say),
    last: Say,
    all: Say,
    other: Say,
    /** All but those that were spoken of. */
    rest: Say,
    same: Say,
    this: Say,
    again: Say,
    pronoun_one: z.strictObject({ before: Say, behind: Say }),
  }),
  acts: z.record(Act, Say),
  commands: z.record(CommandName, Say),
  orders: z.partialRecord(CommandName, Say),
  dialogue: z.strictObject({
    correct: Say,
    retract: Say,
    setaside: Say,
    notfitted: Say,
    squawk: Say,
    compared: z.strictObject({ same: Say, worse: Say, better: Say, gone: Say }),
    everything: Say,
    here: Say,
    circumstance: z.record(Circumstance, Say),
    arrive: Say,
  }),
  exchange: z.strictObject({
    asking: Say,
    where: Say,
    tag: Say,
    yes: Say,
    no: Say,
    slip: Say,
    mending: Say,
    unknown: Say,
  }),
  answers: z.strictObject({
    ...(Object.fromEntries(ANSWER_WORDS.map((kind) => [kind, Say])) as Record<
      AnswerWord,
      typeof Say
    >),
    compared: z.strictObject({ same: Say, worse: Say, better: Say, gone: Say }),
  }),
  units: z.array(UnitEntry),
  numbers: z.strictObject({
    digits: z.record(z.string(), Say),
    teens: Say,
    tens: Say,
    hundred: Say,
    thousand: Say,
    point: Say,
    half: Say,
    quarter: Say,
    quarters: Say,
    third: Say,
    thirds: Say,
    eighth: Say,
    couple: Say,
    between: Say,
    to: Say,
    /** "One through four": joins the first and the last of a row. */
    upto: Say,
    about: Say,
    past: Say,
    short: Say,
  }),
  places: z.strictObject({ at: Say, on: Say, away: Say, parts: Say }),
  fillers: z.strictObject({ words: Say }),
  parts: z.array(z.strictObject({ names: Row, said: Row })),
  loose: z.strictObject({ good: Row, bad: Row, conditions: z.record(Id, Row) }),
  written: z.record(Id, Say),
  happenings: z.strictObject({
    had: Say,
    told: Say,
    openers: Say,
    who: Say,
    did: Say,
    alone: Say,
    some: Say,
    kind: Say,
    verbs: Say,
    behind: Say,
    struck: Say,
    tellers: Say,
    telling: Say,
    opens: Say,
    acted: Say,
    unhurt: Say,
    story: Say,
  }),
  corrections: z.strictObject({
    breath: Say,
    grown: Say,
    more: Say,
    plain: Say,
    partly: Say,
    beside: Say,
    denying: Say,
    other: Say,
    wrong: Say,
    points: Say,
    also: Say,
    having: Say,
  }),
  hedges: z.strictObject({
    hedges: Say,
    wondering: Say,
    tags: Say,
    except: Say,
    nohere: Say,
    promised: Say,
    others: Say,
    hosts: Say,
    touched: Say,
    worn: Say,
    belied: Say,
    loosely: Say,
    pleased: Say,
    displeased: Say,
    moments: Say,
    mended: Say,
    refuted: Say,
    rebuttals: Say,
    instead: Say,
    nownot: Say,
    persons: Say,
    compared: Say,
    allbut: Say,
    figures: Say,
  }),
  sizes: z.strictObject({ like: Say }),
  idioms: z.strictObject({ figures: Row, elsewhere: Row, body: Row }),
} as const;
export type Lexicon = { readonly [K in keyof typeof FILES]: z.infer<(typeof FILES)[K]> };

const texts: Record<string, string> = import.meta.glob('./en/*.yaml', {
  query: '?raw',
  eager: true,
  import: 'default',
});

/** Reads the files of one language; throws one sentence that names the file and the entry. */
export function readLexicon(files: Readonly<Record<string, string>>): Lexicon {
  const out: Record<string, unknown> = {};
  for (const [name, schema] of Object.entries(FILES)) {
    const key = Object.keys(files).find((k) => k.endsWith(`/${name}.yaml`));
    if (key === undefined) throw new Error(`The lexicon has no file ${name}.yaml.`);
    const read = schema.safeParse(parse(files[key] ?? '', { maxAliasCount: 0 }));
    if (!read.success) {
      const issue = read.error.issues[0];
      throw new Error(
        `${name}.yaml: ${issue?.path.join('.') ?? ''}: ${issue?.message ?? 'cannot be read'}`,
      );
    }
    out[name] = read.data;
  }
  return out as Lexicon;
}

let english: Lexicon | null = null;
/** The English lexicon, read on first use. */
export function lexicon(): Lexicon {
  english ??= readLexicon(texts);
  return english;
}
