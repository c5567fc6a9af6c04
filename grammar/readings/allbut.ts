import { lexicon } from '../lexicon.ts';
import type { Member } from '../matches/roster.ts';
import type { CandidateInput } from '../scores/around.ts';
import type { Scored } from '../scores/scored.ts';
import type { Token } from '../tokens.ts';
import { quantitiesIn } from '../values.ts';
import { phrasesIn } from './phrases.ts';

/**
 * "All the cross tubes bar the rear are straight", "both doors latch, excepting the right": what is said of
 * all is said of the others, and of the one that is left out only what goes on about it (R1).
 */

/** Words between the exception and the place that it leaves out: "but for the left hand one". */
const REACH = 4;
const EVERY: ReadonlySet<string> = new Set(['all', 'both', 'every', 'each', 'everything']);

/** Places of a check that the words leave out of all; none where they leave out no part of it. */
export function leftOut(
  tokens: readonly Token[],
  { instances }: Member,
  { placeAt }: CandidateInput,
): readonly string[] {
  const { except, allbut } = lexicon().hedges;
  // "Both mains two bar, left and right" is a pressure, and leaves out nothing.
  const figures = quantitiesIn(tokens, 0, tokens.length);
  const cut = phrasesIn(tokens, except, allbut).find(
    ({ from, to }) =>
      !figures.some((q) => from >= q.from && from < q.to) &&
      (tokens.slice(0, from).some((t) => EVERY.has(t.word)) ||
        tokens.slice(from, to).some((t) => EVERY.has(t.word))),
  );
  if (cut === undefined || instances.length < 2) return [];
  const near = (at: number): boolean => at >= cut.to && at < cut.to + REACH;
  const out = instances.filter((_, i) => (placeAt[i] ?? []).some(near));
  return out.length < instances.length ? out : [];
}

/** The shares with the others meant for certain, and what is left out not. */
export function othersMeant(scored: Scored, { instances }: Member, out: readonly string[]): Scored {
  if (out.length === 0) return scored;
  const places = scored.places.map((p, i) =>
    out.includes(instances[i] ?? '') ? { ...p, good: 0 } : { ...p, meant: 1, finding: 0 },
  );
  return { ...scored, places };
}
