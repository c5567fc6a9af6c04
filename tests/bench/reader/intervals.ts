import { quantileSorted } from 'simple-statistics';
import { z } from 'zod';
import { random } from '../channel.ts';
import { measuresOf } from './measures.ts';
import { summed, type WalkTally } from './tally.ts';

/** The measures that get an interval, and whether more is better. */
export const WATCHED = {
  checkF1: 'more',
  credited: 'more',
  falseSpokenForPer1000: 'less',
  findingsLostPer1000: 'less',
  falseFindingsPer100: 'less',
  questionsPer100: 'less',
} as const;
export type Watched = keyof typeof WATCHED;
export const WATCHED_NAMES = Object.keys(WATCHED).filter((k): k is Watched => k in WATCHED);

/** Lower and upper end. */
export const Ends = z.tuple([z.number(), z.number()]);
export type Ends = z.infer<typeof Ends>;
export type Intervals = Readonly<Record<Watched, Ends>>;

const DRAWS = 1000;
const SEED = 20261;
/** Shares of the draws below and above the interval: 95 % lie within. */
const TAILS = [0.025, 0.975] as const;

/**
 * 95 % intervals by drawing whole walks with replacement: utterances of one
 * speaker go together, so drawing utterances would make the figures look surer
 * than they are.
 */
export function intervalsOf(
  tallies: readonly WalkTally[],
  draws: number = DRAWS,
  seed: number = SEED,
): Intervals {
  const draw = random(seed);
  const values: Record<Watched, number[]> = {
    checkF1: [],
    credited: [],
    falseSpokenForPer1000: [],
    findingsLostPer1000: [],
    falseFindingsPer100: [],
    questionsPer100: [],
  };
  for (let i = 0; i < draws; i += 1) {
    const drawn = tallies.flatMap(() => tallies[Math.floor(draw() * tallies.length)] ?? []);
    const measures = measuresOf(summed(drawn));
    for (const name of WATCHED_NAMES) values[name].push(measures[name]);
  }
  const ends = (name: Watched): Ends => {
    const sorted = values[name].sort((a, b) => a - b);
    return [quantileSorted(sorted, TAILS[0]), quantileSorted(sorted, TAILS[1])];
  };
  return {
    checkF1: ends('checkF1'),
    credited: ends('credited'),
    falseSpokenForPer1000: ends('falseSpokenForPer1000'),
    findingsLostPer1000: ends('findingsLostPer1000'),
    falseFindingsPer100: ends('falseFindingsPer100'),
    questionsPer100: ends('questionsPer100'),
  };
}
