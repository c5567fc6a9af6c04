import type { Question } from '#shared/question';
import type { Talk } from '#shared/talk';
import type { ConditionMatch, PlaceWords } from '../matches/heardas.ts';
import type { Matches } from '../matches/matches.ts';
import type { Token } from '../tokens.ts';
import type { TokenInput } from './inputs.ts';

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
}

export const flagOf = (x: boolean): number => (x ? 1 : 0);

export function argmax(list: readonly number[]): number {
  let best = 0;
  list.forEach((x, i) => {
    if (x > (list[best] ?? 0)) best = i;
  });
  return best;
}
