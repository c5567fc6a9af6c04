import { z } from 'zod';
import type { Event } from './event.ts';
import { Instant } from './instant.ts';
import { Severity } from './severity.ts';
import type { ConditionSaid } from './statement.ts';

/** What words were told to mean. */
export const Means = z.discriminatedUnion('is', [
  z.object({ is: z.literal('check'), check: z.string() }),
  /** Only ever from a plain yes or the word "good" itself. */
  z.object({
    is: z.literal('good'),
    /** Of this check only: what is good at one may be a fault at another ("it clicks"). */
    check: z.string(),
  }),
  z.object({ is: z.literal('bad') }),
  /** A fault that has a name: "lumpy" was "rough". */
  z.object({ is: z.literal('condition'), condition: z.string() }),
  /**
   * A whole sentence that was asked about, and what it was said to mean for this check. It
   * settles the doubt of the same sentence about the same check, and nothing else.
   */
  z.object({ is: z.literal('meant'), check: z.string(), good: z.boolean() }),
  /** How bad this condition was said to be at this check: proposed the next time, not asked. */
  z.object({
    is: z.literal('severity'),
    check: z.string(),
    /** Empty: a fault that no word names, in the whole sentence that is the phrase. */
    condition: z.string(),
    /** What was rated: more of it, or a larger one, is asked about anew. */
    degree: z.enum(['slight', 'moderate', 'severe']).nullable(),
    count: z.number().nullable(),
    size: z.string().nullable(),
    severity: Severity,
  }),
  /** Answered with "nothing": told twice, this whole sentence is not asked about any more. */
  z.object({ is: z.literal('nothing') }),
]);
export type Means = z.infer<typeof Means>;

/**
 * What words were told to mean, for one aircraft and one speaker: learned from an answer, a
 * correction or a finding that was placed. Events, so that the phrasebooks of two devices
 * merge as any other part of the log does; what a device goes by of them, `believed` says.
 */
export const Learned = z.object({
  id: z.string(),
  /** In lower case, as it was said. */
  phrase: z.string(),
  means: Means,
  /** Who said it; null where the walk has no name. */
  speaker: z.string().nullable(),
  /** Id of the statement that told it. */
  from: z.string(),
  /** The words that told it, and the question that they answered; older ones do not have them. */
  told: z.string().optional(),
  asked: z.string().optional(),
  /** When it was learned, milliseconds since 1970, where it was brought in later than that. */
  at: Instant.optional(),
});
export type Learned = z.infer<typeof Learned>;

/** One line of a phrasebook, with the day on which it was learned, as "2026-01-05". */
export interface Line extends Learned {
  readonly at: number;
  readonly on: string;
  /** How often the same was told. */
  readonly times: number;
}

/** Words of a phrase at most: a longer one is a sentence, and means nothing by itself. */
export const LONGEST_PHRASE = 4;
/**
 * Words of a sentence that is learned whole. A longer one is a speech, which nobody gives twice
 * alike; since only the very same words count, a large limit costs nothing but room.
 */
export const LONGEST_SENTENCE = 40;
/**
 * Times that a sentence has to be answered with "nothing", or one that sounded like a fault
 * with "good", before it is not asked about any more. Once is a slip of the tongue and would
 * silence a fault; more than twice is an interruption too many.
 */
export const SURELY = 2;

/** What one aircraft's phrasebooks hold: the lines that count, and those that were forgotten. */
export interface Phrasebooks {
  readonly lines: readonly Line[];
  readonly forgotten: readonly Line[];
}

/**
 * The phrasebook of one speaker on one aircraft, out of whatever events there are, in any
 * order. Of two meanings of one phrase the later counts, but bad is never undone by good:
 * that takes somebody who has it forgotten.
 */
export function phrasebookOf(
  events: readonly Event[],
  aircraft: string,
  speaker: string | null,
): readonly Line[] {
  return phrasebooksOf(events, aircraft).lines.filter((line) => line.speaker === speaker);
}

/** The phrasebooks of everybody on one aircraft. */
export function phrasebooksOf(events: readonly Event[], aircraft: string): Phrasebooks {
  const own = events.filter((e) => e.aircraft === aircraft);
  const gone = goneIn(own);
  const told = toldIn(own);
  const lines = settled(told.filter((line) => !gone.has(line.id)));
  const known = new Set(lines.map(keyOf));
  return {
    lines,
    // What was learned anew since is not offered a second time.
    forgotten: settled(told.filter((line) => gone.has(line.id))).filter(
      (line) => !known.has(keyOf(line)),
    ),
  };
}

/**
 * What was learned, as far as a device goes by it unasked. Anybody's backup may
 * hold events that teach, and nothing seals those outside a walk: of other devices
 * only what makes words a fault is believed, which can cost a question and nothing
 * worse. All else of theirs comes with a phrasebook's file, and a yes.
 */
export function believed(events: readonly Event[], device: string): readonly Event[] {
  return events.filter(
    (e) => e.device === device || (e.what.kind === 'learned' && isBad(e.what.learned.means)),
  );
}

/** Ids of what is forgotten, and when it was: the latest word on each counts. */
export function goneIn(events: readonly Event[]): ReadonlyMap<string, number> {
  const gone = new Map<string, number>();
  for (const { what, at } of inOrder(events)) {
    if (what.kind !== 'unlearned') continue;
    if (what.undone === true) gone.delete(what.learned);
    else gone.set(what.learned, at);
  }
  return gone;
}

/** Everything that was ever told, oldest first; one that is in the log twice, once. */
export function toldIn(events: readonly Event[]): readonly Line[] {
  const byId = new Map<string, Line>();
  for (const { what, at } of inOrder(events)) {
    if (what.kind !== 'learned' || byId.has(what.learned.id)) continue;
    const when = what.learned.at ?? at;
    const on = new Date(when).toISOString().slice(0, 10);
    byId.set(what.learned.id, { ...what.learned, at: when, on, times: 1 });
  }
  return [...byId.values()].sort((a, b) => a.at - b.at || (a.id < b.id ? -1 : 1));
}

function settled(lines: readonly Line[]): readonly Line[] {
  const book = new Map<string, Line>();
  for (const line of lines) {
    const key = keyOf(line);
    const old = book.get(key);
    if (isBad(old?.means) && isGood(line.means)) continue;
    const again = old !== undefined && JSON.stringify(old.means) === JSON.stringify(line.means);
    book.delete(key);
    book.set(key, again ? { ...line, times: old.times + 1 } : line);
  }
  return [...book.values()];
}

/** What makes words a fault. */
export const isBad = (means: Means | undefined): boolean =>
  means?.is === 'bad' || means?.is === 'condition' || (means?.is === 'meant' && !means.good);
const isGood = (means: Means): boolean =>
  means.is === 'good' || (means.is === 'meant' && means.good);

/** A place that tells how large something is, and was not told apart from it. */
const MEASURED =
  /\d|\b(inch|inches|mm|millimet\w+|cm|centimet\w+|foot|feet|half|thumb|finger|hand)\b/i;

/** How large something is, as said; null where it was not. */
export function sizeOf({ size, place }: Pick<ConditionSaid, 'size' | 'place'>): string | null {
  return size ?? (place !== null && MEASURED.test(place) ? place : null);
}

/** Slight is less than what nobody qualified, which may be anything up to severe. */
const DEGREES = ['slight', null, 'moderate', 'severe'] as const;

type Extent = Pick<ConditionSaid, 'degree' | 'extent' | 'size' | 'place'>;

/** Whether a fault is more, larger or of another size than when it was rated. */
export function isMore(now: Extent, rated: Extent): boolean {
  return (
    DEGREES.indexOf(now.degree) > DEGREES.indexOf(rated.degree) ||
    (now.extent?.count ?? 0) > (rated.extent?.count ?? 0) ||
    sizeOf(now) !== sizeOf(rated)
  );
}

/** Lines of one key contradict or repeat each other; all others stand side by side. */
export function keyOf({ speaker, phrase, means }: Pick<Learned, 'speaker' | 'phrase' | 'means'>) {
  return JSON.stringify(
    means.is === 'severity'
      ? [speaker, 'severity', means.check, means.condition || phrase]
      : means.is === 'nothing'
        ? [speaker, 'nothing', phrase]
        : means.is === 'meant'
          ? [speaker, 'meant', means.check, phrase]
          : [speaker, 'phrase', phrase],
  );
}

/** Ids of every telling behind a line: forgetting it forgets them all. */
export function tellingsOf(
  events: readonly Event[],
  aircraft: string,
  line: string,
): readonly string[] {
  const told = toldIn(events.filter((e) => e.aircraft === aircraft));
  const own = told.find((l) => l.id === line);
  if (own === undefined) return [line];
  const key = keyOf(own);
  return told.filter((l) => keyOf(l) === key).map((l) => l.id);
}

function inOrder(events: readonly Event[]): readonly Event[] {
  return [...events].sort((a, b) => a.at - b.at || (a.id < b.id ? -1 : 1));
}
