import type { Heard } from '#shared/heard';
import type { Scene } from '#shared/scene';
import type { Statement } from '#shared/statement';
import type { Roster } from '../matches/roster.ts';
import type { Words } from '../readings/said.ts';
import type { Inputs } from '../scores/around.ts';
import { alsoThere } from './alsothere.ts';
import { clearedBy } from './cleared.ts';
import { corrected } from './correction.ts';
import { detailed } from './detail.ts';
import { harmlessAfterAll } from './harmless.ts';
import { placedLater } from './placed.ts';
import { ratedDoubt } from './rateddoubt.ts';
import { takenBack } from './takeback.ts';

/** What reading needs that refers to what was said before: the words, what they name, and the conversation. */
export interface Turning {
  readonly heard: Heard;
  readonly words: Words;
  readonly scene: Scene;
  readonly roster: Roster;
  readonly inputs: Inputs;
  /** The words correct what was said before them in the same breath: a name alone is meant so. */
  readonly breath?: boolean;
  nextId(): string;
}

/** Reads one way of coming back to what was said before; null where the words do not. */
export type Move = (t: Turning) => readonly Statement[] | null;

/** One row a way, the first that fits is taken: no score has a say in them. */
const MOVES: readonly Move[] = [
  takenBack,
  clearedBy,
  ratedDoubt,
  harmlessAfterAll,
  alsoThere,
  corrected,
  placedLater,
  detailed,
];

/** What the words do to what was said before; null where they say something of their own. */
export function moveOf(t: Turning): readonly Statement[] | null {
  for (const move of MOVES) {
    const made = move(t);
    if (made !== null) return made;
  }
  return null;
}
