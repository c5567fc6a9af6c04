import type { Talk } from '#shared/talk';
import { lexicon } from '../lexicon.ts';
import { stem } from '../names.ts';
import type { CandidateInput, Inputs } from '../scores/around.ts';
import type { Scored, Scores } from '../scores/scored.ts';
import { phraseIn, phrasesIn } from './phrases.ts';
import { ownWords } from './said.ts';

/**
 * "Right fasteners all tight", "plug two has a cut, the others are good": words that sweep over all
 * places, all of one side, or all but those just spoken of. Which places that are is counted, and left to
 * no score; whether it is a good is left to them (R1).
 */

/** The share that a place is worth which the words sweep over; above every threshold of decide.ts. */
const SWEPT = 0.99;
/** From here the scores hold a check to be reported on, and its good to be said. */
const MEANT = 0.5;
/** From here a fault is seen, and where it is, is not for a sweep to say. */
const ILL = 0.15;
/** Utterances back in which places were spoken of that "the others" leaves out. */
const LATELY = 3;

/** The scores, with the places made sure of that the words sweep over. */
export function swept(inputs: Inputs, scores: Scores, turns: Talk['turns']): Scores {
  const several = inputs.candidates.flatMap((c, i) =>
    c.member !== null &&
    c.member.check !== null &&
    c.member.instances.length > 1 &&
    (scores.candidates[i]?.result ?? 0) >= MEANT
      ? [i]
      : [],
  );
  const [index] = several;
  const input = index === undefined ? undefined : inputs.candidates[index];
  const scored = index === undefined ? undefined : scores.candidates[index];
  if (index === undefined || several.length > 1 || input === undefined || scored === undefined)
    return scores;
  const places =
    restOf(inputs, input, turns) ?? (scored.finding < ILL ? allOf(inputs, input) : null);
  if (places === null) return scores;
  const made: Scored = {
    ...scored,
    places: scored.places.map((p, i) =>
      places.includes(i) && p.finding < MEANT
        ? { ...p, meant: SWEPT, good: scored.good >= MEANT ? Math.max(p.good, SWEPT) : p.good }
        : p,
    ),
  };
  return { ...scores, candidates: scores.candidates.map((s, i) => (i === index ? made : s)) };
}

/** Indexes of the places that "the others" are; null where nobody says so, or of which is open. */
function restOf(
  { tokens }: Inputs,
  input: CandidateInput,
  turns: Talk['turns'],
): readonly number[] | null {
  const { member } = input;
  const at = phraseIn(tokens, lexicon().sides.rest);
  if (member === null || at === null) return null;
  const spoken = input.placeAt.map((list) => list.filter((k) => k < at.from || k >= at.to));
  // "The rest of the boom" is no place of what was named before.
  const own = ownWords(input);
  const behind = [1, 2, 3, 4].some((d) => own.includes(at.to + d - 1));
  if (tokens[at.to]?.word === 'of' && !behind) return null;
  // "The others, four and five, …": what they are is said.
  if (spoken.some((list) => list.some((k) => k >= at.to))) return null;
  const now = spoken.flatMap((list, i) => (list.length > 0 ? [i] : []));
  const key = member.key;
  const before = turns
    .slice(-LATELY)
    .reverse()
    .map((t) => t.said[key]?.places ?? [])
    .find((list) => list.length > 0);
  const told = now.length > 0 ? now : (before ?? []).map((p) => member.instances.indexOf(p));
  const rest = member.instances.flatMap((_, i) => (told.includes(i) ? [] : [i]));
  const count = countBehind(tokens, at.to - 1);
  const fits = count === null || count === rest.length;
  return told.length > 0 && rest.length > 0 && fits ? rest : null;
}

/** Indexes of all places, or of all on the sides that are said; null where not all are meant, or some by name. */
function allOf({ tokens }: Inputs, input: CandidateInput): readonly number[] | null {
  const { member } = input;
  const { sides, hedges } = lexicon();
  const sweeps = phrasesIn(tokens, sides.all);
  const except = phraseIn(tokens, hedges.except) ?? phraseIn(tokens, sides.rest);
  if (member === null || except !== null) return null;
  const words = tokens.map((t) => stem(t.word));
  const said = new Set(tokens.flatMap((t, i) => (t.side ? [words[i] ?? ''] : [])));
  const groups = [...said].map((side) =>
    member.instanceWords.flatMap((own, i) => (own.includes(side) ? [i] : [])),
  );
  const some = [...new Set(groups.flat())].sort((a, b) => a - b);
  // A side that tells two places of a check apart names one of them, and sweeps over none.
  if (groups.some((g) => g.length === 1)) return null;
  // "On the left one two three": counted through, which is all of that side.
  if (sweeps.length === 0) return some.length > 0 && isCounted(tokens, some.length) ? some : null;
  const places = some.length > 0 ? some : member.instances.map((_, i) => i);
  const counts = sweeps.flatMap(({ to }) => countBehind(tokens, to) ?? []);
  const sizes = new Set([places.length, ...groups.map((g) => g.length)]);
  const two = sweeps.some(({ from }) => OF_TWO.test(tokens[from]?.word ?? ''));
  const fits = counts.every((n) => sizes.has(n)) && (!two || sizes.has(2));
  // "All fine, number three as well": a place by its own name, beside the count of all.
  const named = input.placeAt.some((list, i) =>
    list.some(
      (k) =>
        tokens[k]?.side !== true &&
        !sweeps.some(({ from, to }) => k >= from && k <= to) &&
        places.includes(i),
    ),
  );
  return fits && !named ? places : null;
}
const OF_TWO = /^(both|neither|either)$/;

/** Whether the words count from one to so many, in a row. */
function isCounted(tokens: Inputs['tokens'], size: number): boolean {
  const counts = tokens.map((_, i) => countBehind(tokens, i));
  const row = Array.from({ length: size }, (_, k) => k + 1);
  return counts.some((_, i) => row.every((n, k) => counts[i + k] === n));
}

/** The number said at a word; null where it is none. */
function countBehind(tokens: Inputs['tokens'], at: number): number | null {
  const word = tokens[at]?.word ?? '';
  const { digits } = lexicon().numbers;
  const value = Object.values(digits).findIndex((say) => say.includes(word));
  if (value > 0) return value;
  return /^\d+$/.test(word) ? Number(word) : null;
}
