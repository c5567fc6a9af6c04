/** Learned scores of one candidate, as probabilities. */
export interface Scored {
  readonly result: number;
  readonly good: number;
  readonly finding: number;
  readonly value: number;
  readonly ask: number;
  readonly talk: number;
  readonly done: number;
  readonly amends: number;
  readonly excepted: number;
  /** Shares of the forces of talk, in the order of `FORCES`. */
  readonly forces: readonly number[];
  /** Named or all; one without saying which; the bare plural. */
  readonly which: readonly number[];
  /** Conditions by label without a word for them: present, then absent. */
  readonly named: readonly number[];
  /** For each condition match: not meant here, present, absent. */
  readonly conditions: readonly (readonly number[])[];
  readonly aspects: readonly number[];
  /** For each place: meant at all, reported good, reported with a fault. */
  readonly places: readonly PlaceScored[];
}

export interface PlaceScored {
  readonly meant: number;
  readonly good: number;
  readonly finding: number;
}

export interface Scores {
  readonly candidates: readonly Scored[];
  /** Share of each kind of order, in the order of `ORDERS`. */
  readonly orders: readonly number[];
  /** Share of each way to say how bad a fault is, in the order of `RATINGS`; empty where it was not learned. */
  readonly ratings: readonly number[];
}

export const FORCES = [
  'intention',
  'teaching',
  'hypothesis',
  'question',
  'past',
  'hearsay',
] as const;
export const ORDERS = ['command', 'rating', 'retract', 'aside', 'circumstance', 'arrive'] as const;
export const RATINGS = ['ground', 'defer', 'watch', 'note'] as const;
