import type { Catalogue } from '#shared/catalogue';
import type { Circumstance } from '#shared/circumstance';
import type { CheckCoverage, Coverage, Reason, Review, Standing } from '#shared/coverage';
import type { Event } from '#shared/event';
import type { Picture } from '#shared/picture';
import type { Question } from '#shared/question';
import { atlasOf, type Atlas } from './atlas.ts';
import { FIRST_COURSE, type Course } from './course.ts';
import type { Guest } from './guests.ts';
import { NOTHING_FOUND, type Demand, type Found } from './findings.ts';
import type { Entry, Mark } from './ledger.ts';
import { EMPTY, type PMap } from './map.ts';

/** What was made of one check. */
export interface Result extends Found {
  readonly coverage: CheckCoverage;
  /** Place in the walk of the last statement that completed it; null while it is not complete. */
  readonly completed: number | null;
  /** Place of the first statement that named it; null when none did. */
  readonly first: number | null;
  /** Called good or done without the value that it asks for. */
  readonly withoutValue: boolean;
}

/** A demand and the index of the check that it comes from. */
export interface Sourced extends Demand {
  readonly source: number;
}

export interface Reviewed {
  readonly review: Review;
  readonly check: string | null;
  readonly statement: string | null;
}

export interface Pictured {
  readonly picture: Picture;
  readonly statement: string;
}

export interface Asked {
  readonly question: Question;
  readonly event: string;
}

/** Events one after the other, the latest first. */
export interface Past {
  readonly event: Event;
  readonly earlier: Past | null;
}

/**
 * The walk as far as it is known. Never changed: a step gives a new one, which
 * shares with the old what did not change.
 */
export interface State {
  readonly atlas: Atlas;
  /** Edition of the catalogue that is used, where the caller knows it. */
  readonly using: string | null;
  readonly past: Past | null;
  /** Statements so far: the next one's place in the walk. */
  readonly order: number;

  readonly walk: string | null;
  readonly aircraft: string | null;
  readonly edition: string | null;
  readonly finished: boolean;
  readonly discarded: { readonly why: string | null } | null;
  /** Somebody said or touched "finish", rather than the file having ended. */
  readonly called: boolean;
  readonly lastFinding: string | null;
  /** Device that began the walk, and where the others are that it let in. */
  readonly device: string | null;
  readonly guests: ReadonlyMap<string, Guest>;
  readonly circumstances: ReadonlySet<Circumstance>;
  /** Texts of the open squawks that were carried into the walk, by check. */
  readonly squawks: ReadonlyMap<string, readonly string[]>;
  readonly decision: Coverage['decision'];
  readonly signed: Coverage['signed'];

  readonly entries: PMap<Entry>;
  readonly marks: PMap<readonly Mark[]>;
  /** Whether any reading was reviewed. */
  readonly anyReview: boolean;
  /** Entries of each check, and last those of no check. */
  readonly ledgers: readonly (readonly Entry[])[];
  /** Demands on each check, with the check that the finding is at. */
  readonly demands: readonly (readonly Sourced[])[];
  /** Standings that a reviewer gave, by check. */
  readonly reviewed: ReadonlyMap<string, Standing>;
  /** What reviewers said, with the check or the statement that it is about, oldest first. */
  readonly reviews: readonly Reviewed[];
  /** Pictures with the statement whose finding they show, oldest first. */
  readonly pictures: readonly Pictured[];
  readonly results: readonly Result[];
  readonly nowhere: Found;

  readonly questions: PMap<Asked>;
  readonly asked: readonly string[];
  readonly closed: PMap<true>;
  readonly course: Course;
  readonly oddities: readonly Reason[];
}

const NONE: readonly never[] = [];
const NO_GUESTS: ReadonlyMap<string, Guest> = new Map();

/** A state before the first event, with nothing made of any check yet. */
export function bareState(catalogue: Catalogue, using: string | null): State {
  const atlas = atlasOf(catalogue);
  return {
    atlas,
    using,
    past: null,
    order: 0,
    walk: null,
    aircraft: null,
    edition: null,
    finished: false,
    discarded: null,
    called: false,
    lastFinding: null,
    device: null,
    guests: NO_GUESTS,
    circumstances: new Set(),
    squawks: new Map(),
    decision: null,
    signed: null,
    entries: EMPTY,
    marks: EMPTY,
    anyReview: false,
    ledgers: [...atlas.spots.map(() => NONE), NONE],
    demands: atlas.spots.map(() => NONE),
    reviewed: new Map(),
    reviews: NONE,
    pictures: NONE,
    results: NONE,
    nowhere: NOTHING_FOUND,
    questions: EMPTY,
    asked: NONE,
    closed: EMPTY,
    course: FIRST_COURSE,
    oddities: NONE,
  };
}
