import { DECIDE } from '../decide.ts';
import type { CandidateInput, Inputs } from '../scores/around.ts';
import type { Scored, Scores } from '../scores/scored.ts';

/** Places that the words say are those and no others: which they are is read off, and left to no score. */

/** The share of a place that is counted out; above every threshold of decide.ts. */
const COUNTED = 0.99;
/** From here the scores hold a thing to be said. */
const MEANT = 0.5;

/** The scores, with the places made sure of that the words say. */
export function saidPlaces({ tokens, candidates }: Inputs, scores: Scores): Scores {
  return {
    ...scores,
    candidates: scores.candidates.map((scored, i) => {
      const input = candidates[i];
      if (input === undefined || input.member === null || scored.result < MEANT) return scored;
      return inARow(tokens, input, onlyNamed(tokens, input, scored));
    }),
  };
}

/**
 * "Four, five and six are cracked", "two to seven are tight", "boom bolts one and three are done up": places
 * by their numbers, one behind the other, and one word of how they are. What is said is said of each of
 * them, and of no other (R1, R4).
 */
function inARow(
  tokens: readonly { readonly word: string }[],
  input: CandidateInput,
  scored: Scored,
): Scored {
  const { member } = input;
  if (member === null || !member.instances.every((place) => /^\d+$/.test(place))) return scored;
  const at = new Map(input.placeAt.flatMap((list, place) => list.map((t) => [t, place] as const)));
  const said = [...at.keys()].sort((a, b) => a - b);
  const [first = 0] = said;
  const last = said.at(-1) ?? first;
  if (said.length < 2) return scored;
  const between = tokens
    .slice(first, last + 1)
    .flatMap((t, k) => (at.has(first + k) ? [] : [t.word]));
  if (
    !between.every((w) => JOINS.test(w)) ||
    tokens.slice(last + 1).some((t) => AGAIN.test(t.word))
  )
    return scored;
  const range = between.some((w) => RANGE.test(w)) && said.length === 2;
  const [from = 0, to = 0] = said.map((t) => at.get(t) ?? 0);
  const meant = new Set(
    range ? member.instances.flatMap((_, i) => (i >= from && i <= to ? [i] : [])) : at.values(),
  );
  // "Five to four" counts nothing out.
  if (meant.size === 0) return scored;
  // One of them is at fault and the others are not: that is for the scores (R4).
  const both = scored.finding >= MEANT && scored.good >= MEANT;
  if (both) return scored;
  return {
    ...scored,
    which: [COUNTED, 0, 0],
    places: scored.places.map((p, i) =>
      meant.has(i)
        ? {
            meant: COUNTED,
            good: scored.good >= MEANT ? Math.max(p.good, COUNTED) : p.good,
            finding: scored.finding >= MEANT ? Math.max(p.finding, COUNTED) : p.finding,
          }
        : { meant: 0, good: 0, finding: 0 },
    ),
  };
}
const JOINS = /^(and|to|through|thru|till|until|number|numbers|the|then)$/;
const RANGE = /^(to|through|thru|till|until)$/;
/** A second thing is said, of others perhaps. */
const AGAIN = /^(but|except|bar|others?|rest|not|one|two|three|four|five|six|seven|eight|nine)$/;

/**
 * "Right inboard and outboard, pretty and blue": where some places are said word for word, and nothing
 * sweeps over the others, the others are not called good (R1). Where a fault is seen, is left to the scores (R4).
 */
function onlyNamed(
  tokens: readonly { readonly word: string }[],
  input: CandidateInput,
  scored: Scored,
): Scored {
  const said = input.places.map((row) => (row[WHOLE] ?? 0) > 0);
  const words = tokens.map((t) => t.word).join(' ');
  if (!said.includes(true) || !said.includes(false) || SWEEPS.test(words)) return scored;
  if (scored.finding >= DECIDE.findingAsked) return scored;
  const numbers = input.member?.instances.some(isNumber) === true;
  if (numbers && (said.filter(Boolean).length < 2 || /\b(of the|the one)\b/.test(words)))
    return scored;
  return {
    ...scored,
    places: scored.places.map((p, k) => (said[k] === true ? p : { ...p, meant: 0, good: 0 })),
  };
}
/** Every word of a place is said. */
const WHOLE = 0;
const SWEEPS =
  /\b(of (them|those|these)|alike|all|both|rest|others?|each|every|everything|neither|either|same|twin|mate|opposite|pair|lot|to|through|till|none|mine|yours|next|last|first|second|third|this|that)\b/;
const isNumber = (place: string): boolean => /\d$/.test(place);
