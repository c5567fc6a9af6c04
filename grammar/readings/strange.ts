import { lexicon } from '../lexicon.ts';
import { senses } from '../matches/senses.ts';
import type { Inputs } from '../scores/around.ts';
import type { Token } from '../tokens.ts';
import { quantitiesIn } from '../values.ts';
import { isPartly } from './partly.ts';
import { phraseIn } from './phrases.ts';
import { ownWords } from './said.ts';
import { isTalk } from './talk.ts';
import { isGeneral } from './vetoes.ts';

/** Sentences that gave no result and may not be passed over in silence (R4, R5). */

/** A check is named whole, and what is said of it nobody knows. */
export function isStrange(
  inputs: Inputs,
  tokens: readonly Token[],
  knows: (word: string) => boolean,
): boolean {
  return (
    tokens.length <= LONGEST_STRANGE &&
    inputs.candidates.some((c) => c.member !== null && (c.features[0] ?? 0) >= WHOLE) &&
    ((!isTalk(inputs) && tokens.some((t) => !knows(t.word))) || saysFault(inputs))
  );
}
const WHOLE = 0.97;
/**
 * More words than this explain or tell a story, in which a name and a word that nobody knows fall
 * every third time: asked about each, a teacher who talks through a walk hears nothing else.
 */
const LONGEST_STRANGE = 12;

/** "Two out of four are tight": of what is not said, and the others may be at fault (R4). */
export const isPartlyWell = (inputs: Inputs): boolean =>
  (isPartly(inputs) || leavesOut(inputs)) &&
  inputs.tokens.length <= LONGEST_PARTLY &&
  !isTalk(inputs);
/** More words than this tell a story. */
const LONGEST_PARTLY = 10;

/** "Everything's fine except the right door": why that one is left out is open (R4). */
function leavesOut(inputs: Inputs): boolean {
  const at = phraseIn(inputs.tokens, lexicon().hedges.except)?.from ?? null;
  return (
    at !== null &&
    isGeneral(inputs) &&
    inputs.candidates.some((c) => c.member !== null && ownWords(c).some((t) => t > at))
  );
}

/** "The doodlebug is cracked": a short sentence says a fault of something that nobody knows (R4). */
export function isFaultUnread(inputs: Inputs, tokens: readonly Token[]): boolean {
  const { names } = senses();
  const says = inputs.tokens.some((t) =>
    t.senses.some((k) => (names[k] ?? '').startsWith('joint-copula')),
  );
  // "My back", "it's leaking money": what is the speaker's own, or nothing at all, is no thing here.
  // "There's a crack here": what is pointed at is one.
  const thing = /^(the|left|right|upper|lower|front|rear|there|that|this)$/.test(
    tokens[0]?.word ?? '',
  );
  return thing && tokens.length <= LONGEST_FAULT && says && saysFault(inputs);
}
/** More words than this tell a story, in which something may well be broken. */
const LONGEST_FAULT = 5;

/** "Oil level is five": a check that measures is named whole, with a number behind it: no talk (R8). */
export function isValueUnread(inputs: Inputs, tokens: readonly Token[]): boolean {
  if (isTalk(inputs) || tokens.length > LONGEST_VALUE) return false;
  const said = quantitiesIn(tokens, 0, tokens.length);
  return inputs.candidates.some(
    (c) =>
      (c.member?.check?.measures.length ?? 0) > 0 &&
      (c.features[0] ?? 0) >= WHOLE &&
      said.some((q) => !ownWords(c).includes(q.from)),
  );
}
/** More words than this tell a story. */
const LONGEST_VALUE = 10;

/** "I don't like the propeller": something is wrong, and what of may be several things (R4). */
export function isComplaintUnread(inputs: Inputs): boolean {
  const told = phraseIn(inputs.tokens, lexicon().hedges.displeased);
  return (
    told !== null &&
    inputs.tokens.length <= LONGEST_PARTLY &&
    !isTalk(inputs) &&
    inputs.candidates.some(
      (c) => c.member !== null && c.marks.some((m) => m.lag === 0 && m.name >= NAMED),
    )
  );
}
/** So much of a name tells that one of several things is meant. */
const NAMED = 0.35;

/** A fault is named outright, undenied and not in talk: never passed over in silence (R4). */
function saysFault(inputs: Inputs): boolean {
  return inputs.conditions.some((c) => !c.weak && !c.either && c.denials === 0) && !isTalk(inputs);
}
