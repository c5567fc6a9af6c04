import { senses } from '../matches/senses.ts';
import type { Inputs } from '../scores/around.ts';
import type { Token } from '../tokens.ts';

/** Words that say nothing, whatever the scores hold. */

/** A stuck key or a stuck recogniser: nobody says sixty words and has fewer than six. Of it nothing may count (R1). */
export const isBabble = (tokens: readonly Token[]): boolean =>
  tokens.length >= BABBLE && new Set(tokens.map((t) => t.word)).size * 10 < tokens.length;
const BABBLE = 60;

/** "The second one", "and the left": where one is or what one looks at, and nothing said of it (R1, R4). */
export function isPlaceAlone({ tokens }: Inputs): boolean {
  const { names } = senses();
  const place = (t: Inputs['tokens'][number]): boolean =>
    t.side ||
    t.senses.some((k) => /^(side|ordinal$|which-(other|last|this)$)/.test(names[k] ?? ''));
  return (
    tokens.length <= LONGEST_PLACE &&
    tokens.some(place) &&
    tokens.every((t) => place(t) || BARE.test(t.word))
  );
}
const LONGEST_PLACE = 5;
const BARE = /^(the|a|this|that|these|those|one|ones|side|and|now|so|um|uh|er|then|ok|okay|well)$/;
