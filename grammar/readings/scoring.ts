import type { Heard } from '#shared/heard';
import type { Scene } from '#shared/scene';
import type { Roster } from '../matches/roster.ts';
import type { Inputs } from '../scores/around.ts';
import type { Scores } from '../scores/scored.ts';
import type { Words } from './said.ts';

/** One utterance with its scores, to be turned into statements. */
export interface Scoring {
  readonly heard: Heard;
  readonly words: Words;
  readonly scene: Scene;
  readonly roster: Roster;
  readonly inputs: Inputs;
  readonly scores: Scores;
  /** It is dictated as a squawk. */
  readonly squawk: boolean;
  /** Whether a word is known at all: to the lexicon, the catalogue or what was learned. */
  knows(word: string): boolean;
  /** Ids in the lexicon of the conditions that the scores know without a word. */
  readonly labels: readonly string[];
  nextId(): string;
}
