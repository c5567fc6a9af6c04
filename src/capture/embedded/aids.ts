/** The helps of the recogniser, each of which a measurement can switch off. */
export interface Aids {
  /** Likelihood of a sound of the phone loop; null: without it the grammar hears itself in everything. */
  readonly loop: number | null;
  /** Estimated signal-to-noise ratio, in decibels, under which noise is suppressed. */
  readonly suppressBelow: number;
  /** Factor on the names of the station and of the next. */
  readonly near: number;
  /** Least share of the voiced time that words must cover. */
  readonly coverage: number;
  /** Whether words need a margin over any sounds at all. */
  readonly margin: boolean;
  /** Whether that margin depends on how the words hang together, and on how near their names are. */
  readonly sense: boolean;
  /** While a question is open, short answers are listened for alone before all the rest. */
  readonly narrow: boolean;
  /** After a short utterance, commands alone are listened for too. */
  readonly commands: boolean;
  /** Those are measured by the mean of the last sentence, not by that of their one word. */
  readonly like: boolean;
}

/** As measured by `npm run bench:listening`; each line of its table switches one of them off. */
export const AIDS: Aids = {
  loop: 0.003,
  suppressBelow: 25,
  near: 8,
  coverage: 0.6,
  margin: true,
  sense: true,
  narrow: true,
  commands: true,
  like: true,
};
