import type { Review } from '#shared/coverage';
import type { Picture } from '#shared/picture';
import type { Squawk, SquawkStep } from '#shared/squawk';

/** Squawks and what is measured over time, as the screens show them. */

/** A measured check or a recurring squawk over time. */
export interface TrendView {
  readonly id: string;
  readonly name: string;
  readonly unit: string | null;
  readonly limit: { readonly low: number | null; readonly high: number | null };
  readonly points: readonly {
    /** Milliseconds since 1970. */
    readonly at: number;
    readonly hours: number | null;
    readonly value: number;
    readonly walk: string | null;
  }[];
  /** What x is: hours when every point has them. */
  readonly over: 'hours' | 'days';
  /** The robust line, in x of `over` (hours, or days since the first point); null when the data do not support one. */
  readonly line: { readonly slope: number; readonly intercept: number } | null;
  /** When the limit will be reached, in x, with its interval; null when not said. */
  readonly reaches: {
    readonly at: number;
    readonly from: number;
    readonly to: number;
  } | null;
  /** One sentence, such as "Within limits; five values are too few for a trend." */
  readonly text: string;
}

/** An offered pair: maybe the same fault, never joined unasked. */
export interface SameFault {
  readonly one: string;
  readonly other: string;
  readonly why: string;
}

export interface SquawkView {
  readonly squawk: Squawk;
  /** "Left main tyre: flat spot, cords showing". */
  readonly title: string;
  /** What reviewers said of the words it came from. */
  readonly reviews?: readonly Review[];
  /** Pictures of it, oldest first; left out: none. */
  readonly pictures?: readonly Picture[];
  /** Draft for the mechanic, at most 1,500 characters. */
  readonly narrative: string;
  /** Proposed JASC codes, best first. */
  readonly jasc: readonly { readonly code: string; readonly name: string }[];
  /** One sentence when a deferral has run out, else null. */
  readonly overdue: string | null;
  /** Steps that may come next. */
  readonly next: readonly SquawkStep['step'][];
}

export interface SquawkBook {
  readonly aircraft: string;
  /** One sentence where the catalogue that names its parts was not chosen for it; else null. */
  readonly guessed?: string | null;
  readonly squawks: readonly SquawkView[];
  readonly trends: readonly TrendView[];
  readonly same: readonly SameFault[];
}

/** Nothing was filed yet: nobody has said which catalogue this aircraft has. */
export interface AskedCatalogue {
  readonly asks: 'catalogue';
  readonly aircraft: string;
}

/** What came of a dictated squawk: read back before it is filed for good. */
export interface FiledSquawk {
  readonly asks?: undefined;
  readonly squawk: string;
  /** Titles of the others, where more than one thing was named. */
  readonly also?: readonly string[];
  /** Filed against it; left out: the one that was picked. Another where its registration was said. */
  readonly aircraft?: string;
  readonly title: string;
  /** One short sentence, as it is spoken. */
  readonly readBack: string;
  /** What could not be placed, kept as said; null when all was. */
  readonly unplaced: string | null;
}

/** What was answered about a mechanic's file. */
export interface AnswersWay {
  /** How its dates are written that may be two days. */
  readonly order?: 'day-first' | 'month-first';
  /** Whether the doubted answers are taken as they stand. */
  readonly doubted?: boolean;
}

export interface AnswersTaken {
  /** One sentence or more; empty while something is asked. */
  readonly text: string;
  /** A date that may be two days: nothing is taken before its writer is asked. */
  readonly asks?: {
    readonly written: string;
    readonly dayFirst: string;
    readonly monthFirst: string;
  };
  /** Answers that may be slips, one sentence each; not taken yet. */
  readonly doubts?: readonly string[];
}
