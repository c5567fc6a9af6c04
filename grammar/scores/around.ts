import type { Question } from '#shared/question';
import type { Talk } from '#shared/talk';
import type { ConditionMatch, PlaceWords } from '../matches/heardas.ts';
import type { Matches } from '../matches/matches.ts';
import type { Member } from '../matches/roster.ts';
import type { Token } from '../tokens.ts';
import type { Trail } from './trail.ts';

/**
 * Everything that the scores look at, as numbers: the words of the utterance and of the
 * last few, and for each thing that may be meant what speaks for it. The learned net
 * sees nothing else, and the same code makes what it learns from.
 */

export interface TokenInput {
  /** The word, or `<name>` where it stands in a name of the catalogue and is nothing else. */
  readonly word: string;
  readonly gap: number;
  readonly asks: boolean;
  readonly senses: readonly number[];
  readonly best: number;
  readonly second: number;
  readonly station: number;
  readonly side: boolean;
}

/** What a token is to a candidate. */
export interface TokenMark {
  /** 0 the utterance itself, 1 the one before, … */
  readonly lag: number;
  readonly token: number;
  readonly name: number;
  readonly meaning: number;
  /** A sum of `FLAG`. */
  readonly flags: number;
}

export interface CandidateInput {
  /** Null for "nothing that is on the list". */
  readonly member: Member | null;
  /** Features in the order of `FEATURES`. */
  readonly features: readonly number[];
  readonly marks: readonly TokenMark[];
  /** A row of features for each condition match, aspect and place. */
  readonly conditions: readonly (readonly number[])[];
  readonly aspects: readonly (readonly number[])[];
  readonly places: readonly (readonly number[])[];
  /** Where each aspect and each place is spoken of in the utterance. */
  readonly aspectAt: readonly (readonly number[])[];
  readonly placeAt: readonly (readonly number[])[];
}

export interface Inputs {
  readonly tokens: readonly TokenInput[];
  /** The utterances before, nearest first. */
  readonly before: readonly (readonly TokenInput[])[];
  readonly conditions: readonly ConditionMatch[];
  readonly candidates: readonly CandidateInput[];
}

/** What a word is to a candidate, besides a part of its name. */
export const FLAG = { side: 1, against: 2, aspect: 4, sign: 8, place: 16, unit: 32 } as const;

/** Utterances before this one that are read with it. */
export const BEFORE = 3;

/** What is asked, reduced to what the scores look at. */
export interface Asked {
  readonly kind: Question['kind'];
  readonly checks: ReadonlySet<string>;
}

/** What has to be known of one earlier utterance. */
export interface Earlier {
  readonly tokens: readonly Token[];
  readonly inputs: readonly TokenInput[];
  readonly matches: Matches;
  readonly places: PlaceWords;
}

/** What all candidates of one utterance share. */
export interface Around {
  readonly now: Earlier;
  readonly earlier: readonly Earlier[];
  readonly talk: Talk;
  /** Nearest first. */
  readonly turns: Talk['turns'];
  readonly said: Readonly<Record<string, readonly string[]>>;
  readonly asked: Asked | null;
  readonly before: readonly number[];
  readonly recents: ReadonlyMap<number, { lag: number; share: number }>;
  readonly conditions: readonly ConditionMatch[];
  readonly kinds: readonly { kind: string; from: number; to: number }[];
  readonly units: ReadonlySet<string>;
  readonly words: ReadonlySet<string>;
  readonly named: ReadonlySet<number>;
  readonly numbers: boolean;
  readonly last: number | null;
  readonly trail: Trail;
}

export const flagOf = (x: boolean): number => (x ? 1 : 0);

export function argmax(list: readonly number[]): number {
  let best = 0;
  list.forEach((x, i) => {
    if (x > (list[best] ?? 0)) best = i;
  });
  return best;
}
