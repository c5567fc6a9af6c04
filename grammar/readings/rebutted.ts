import { lexicon } from '../lexicon.ts';
import { senses } from '../matches/senses.ts';
import type { Inputs } from '../scores/around.ts';
import type { Token } from '../tokens.ts';
import { phraseIn } from './phrases.ts';

/**
 * "They reported the right aileron free. They were mistaken, it binds.": what others said, that they are
 * wrong, and how it is. The last is the speaker's own, and is read by itself (R2).
 *
 * @returns what was told, and what is said of it; null where nobody is contradicted
 */
export function rebuttedApart(
  tokens: readonly Token[],
  inputs: Inputs,
): readonly (readonly Token[])[] | null {
  const at = phraseIn(tokens, lexicon().hedges.rebuttals);
  if (at === null || at.from < FEWEST || tokens.some((t) => t.asks)) return null;
  // "They say something is wrong with the left brake" contradicts nobody.
  const next = tokens[at.to];
  if (next === undefined || (next.gap === 0 && !GOES_ON.test(next.word))) return null;
  const { names } = senses();
  const tells = (from: number, to: number): boolean =>
    inputs.tokens
      .slice(from, to)
      .some((t) => t.senses.some((k) => TOLD.test(names[k] ?? '')) || SAYS.test(t.word));
  if (!tells(0, at.from) || tells(at.to, tokens.length)) return null;
  // "It isn't, it's clear": the second "it is" begins what is said of it.
  const again = /^(is|are)$/.test(tokens[at.to - 1]?.word ?? '') && at.to - at.from > 2;
  let from = again ? at.to - 2 : at.to;
  while (LINKS.test(tokens[from]?.word ?? '')) from += 1;
  return tokens.length - from < 2 ? null : [tokens.slice(0, at.from), tokens.slice(from)];
}
/** Fewer words tell of nothing. */
const FEWEST = 3;
const TOLD = /^force-(hearsay|past)$/;
const SAYS =
  /^(says|said|say|told|reported|reports|thinks|thought|reckons|reckoned|claims|claimed|swears|swore|heard|wrote)$/;
/** What a sentence of one's own begins with. */
const GOES_ON = /^(it|they|there|that|this|i|we|and|because|so|well|actually)$/;
const LINKS = /^(and|because|so|well|actually|i|have|looked|checked)$/;
