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

/**
 * "The cowling is", "left tyre has a": a thing is named and the sentence breaks off before anything is
 * said of it. What was to come may be good or bad; until it is said, nothing is (R1).
 */
export function isBrokenOff({ tokens }: Inputs): boolean {
  const { names } = senses();
  const kinds = (t: Inputs['tokens'][number]): string[] => t.senses.map((k) => names[k] ?? '');
  const last = tokens.at(-1);
  return (
    last !== undefined &&
    tokens.length <= LONGEST_BROKEN &&
    (kinds(last).includes('joint-copula') || ARTICLE.test(last.word)) &&
    tokens.every(
      (t) =>
        !kinds(t).some((k) => SAYS.test(k)) &&
        (NAMED <= Math.max(t.best, t.station) ||
          t.side ||
          t.senses.length > 0 ||
          BARE.test(t.word)),
    )
  );
}
const LONGEST_BROKEN = 8;
/** Share of a name from which a word is one of it. */
const NAMED = 0.6;
/** What a sentence does not end with; "in" and "on" say where a thing is. */
const ARTICLE = /^(the|a|an|its|any|of|with|just|bit)$/;
/** Kinds of cue that say something of a thing. */
const SAYS =
  /^(condition|is-|verdict|loose|denial-(before|after|prose)|number$|part$|unit|severity|act-|compared|dialogue)/;
