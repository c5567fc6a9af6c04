import { existsSync, readFileSync } from 'node:fs';
import { z } from 'zod';
import { Ends, WATCHED, WATCHED_NAMES, type Intervals, type Watched } from './intervals.ts';
import type { Measures } from './measures.ts';

/** What `ours` reached on the report part, kept in tests/bench/reader-ratchet.json. */
const Figure = z.strictObject({ figure: z.number(), interval: Ends });
const Level = z.partialRecord(z.enum(WATCHED_NAMES), Figure);
export const Kept = z.strictObject({
  /** Hash of the walks that the figures are of; left out while nothing is kept. */
  walks: z.string().optional(),
  /** By word error rate in per cent. */
  levels: z.record(z.string(), Level).default({}),
});
export type Kept = z.infer<typeof Kept>;

export function readKept(file: string): Kept {
  return Kept.parse(existsSync(file) ? JSON.parse(readFileSync(file, 'utf8')) : {});
}

/** Figures in the form of the file. */
export function keptOf(
  walks: string,
  levels: ReadonlyMap<number, { measures: Measures; intervals: Intervals }>,
): Kept {
  return {
    walks,
    levels: Object.fromEntries(
      [...levels].map(([level, { measures, intervals }]) => [
        String(level),
        Object.fromEntries(
          WATCHED_NAMES.map((name) => [
            name,
            { figure: measures[name], interval: intervals[name] },
          ]),
        ),
      ]),
    ),
  };
}

export type Now = Readonly<Record<string, Partial<Readonly<Record<Watched, number>>>>>;

/**
 * What is worse now than what was kept, by more than chance explains: on the bad
 * side of the kept interval. One sentence each. Levels and measures that were
 * not measured now are not judged.
 */
export function worsened(kept: Kept, now: Now): string[] {
  return Object.entries(kept.levels).flatMap(([level, figures]) =>
    WATCHED_NAMES.flatMap((name) => {
      const was = figures[name];
      const is = now[level]?.[name];
      if (was === undefined || is === undefined) return [];
      const [low, high] = was.interval;
      const worse = WATCHED[name] === 'more' ? is < low : is > high;
      return worse
        ? [
            `${name} at ${level} % word errors is ${short(is)}; it was ${short(was.figure)}, and the interval that is kept is ${short(low)} to ${short(high)}.`,
          ]
        : [];
    }),
  );
}

function short(value: number): string {
  return value >= 10 ? value.toFixed(1) : value.toFixed(3);
}
