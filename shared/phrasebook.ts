import { z } from 'zod';
import type { Event } from './event.ts';

/**
 * What words were told to mean, for one aircraft and one speaker: learned from an answer, a
 * correction or a finding that was placed. Events, so that the phrasebooks of two devices
 * merge as any other part of the log does.
 */
export const Learned = z.object({
  id: z.string(),
  /** In lower case, as it was said. */
  phrase: z.string(),
  means: z.discriminatedUnion('is', [
    z.object({ is: z.literal('check'), check: z.string() }),
    /** Only ever from a plain yes or the word "good" itself. */
    z.object({
      is: z.literal('good'),
      /** Of this check only: what is good at one may be a fault at another ("it clicks"). */
      check: z.string(),
    }),
    z.object({ is: z.literal('bad') }),
  ]),
  /** Who said it; null where the walk has no name. */
  speaker: z.string().nullable(),
  /** Id of the statement that told it. */
  from: z.string(),
});
export type Learned = z.infer<typeof Learned>;

/** One line of a phrasebook, with the day on which it was learned, as "2026-01-05". */
export interface Line extends Learned {
  readonly on: string;
}

/** Words of a phrase at most: a longer one is a sentence, and means nothing by itself. */
export const LONGEST_PHRASE = 4;

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
  const gone = new Set(
    events.flatMap(({ what }) => (what.kind === 'unlearned' ? [what.learned] : [])),
  );
  const lines = events
    .filter((e) => e.aircraft === aircraft)
    .slice()
    .sort((a, b) => a.at - b.at || (a.id < b.id ? -1 : 1))
    .flatMap(({ what, at }): Line[] =>
      what.kind === 'learned' && what.learned.speaker === speaker && !gone.has(what.learned.id)
        ? [{ ...what.learned, on: new Date(at).toISOString().slice(0, 10) }]
        : [],
    );
  const book = new Map<string, Line>();
  for (const line of lines) {
    const old = book.get(line.phrase);
    if (old?.means.is === 'bad' && line.means.is === 'good') continue;
    book.set(line.phrase, line);
  }
  return [...book.values()];
}
