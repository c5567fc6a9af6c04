import type { Which } from '#shared/statement';
import { SAID, type Talk } from '#shared/talk';
import { DECIDE } from '../decide.ts';
import type { Member, Roster } from '../matches/roster.ts';
import { stem } from '../names.ts';
import type { CandidateInput, Inputs } from '../scores/around.ts';
import type { Scored, Scores } from '../scores/scored.ts';
import { ownWords } from './said.ts';

/**
 * "Left tyre good." "Brake's dry." "Leg, three inches.": whoever stands at the left wheel says of all of
 * it what he sees there, and does not say "left" again. In the walks to learn from, of what was told of
 * another check at one station without a place and in the singular, 746 of 773 meant the place that was
 * told of last, whatever the scores hold likely; two utterances back 184 of 211 did.
 */

/** Utterances back in which a place was told of. Three back a third meant another. */
const LATELY = 2;
/** The share of the place that one stands at; above every threshold of decide.ts. */
export const HERE = 0.99;
/** From here the scores hold a check to be reported on, and its good to be said. */
const MEANT = 0.5;

/** What a reading says of it. */
export const WHERE_ONE_STANDS =
  'no place is said: the one that was told of last, at the same station';

/** Whether a place was taken that no word says, because one stands there. */
export function isBeside(
  member: Member,
  input: CandidateInput,
  scored: Scored,
  { how, instances }: Which,
): boolean {
  const [only, ...more] = instances;
  const at = only === undefined || more.length > 0 ? -1 : member.instances.indexOf(only);
  const said = input.placeAt.some((tokens) => tokens.length > 0);
  // The net never holds a thing for impossible: nought was put there by `atPlace`.
  return how === 'named' && !said && at >= 0 && scored.which[1] === 0;
}

/** The scores, with the place made sure of at which one stands. */
export function atPlace(
  inputs: Inputs,
  scores: Scores,
  turns: Talk['turns'],
  { byKey }: Pick<Roster, 'byKey'>,
): Scores {
  const candidates = scores.candidates.map((scored, i): Scored => {
    const input = inputs.candidates[i];
    if (input === undefined || input.member === null || scored.result < MEANT) return scored;
    const { instances } = input.member;
    const sure = scored.places.filter((p) => p.meant >= DECIDE.place).length === 1;
    const place =
      placeBeside(inputs.tokens, input, turns, byKey) ??
      (sure ? null : lastPlace(inputs.tokens, input, turns));
    const at = place === null ? -1 : instances.indexOf(place);
    if (at < 0) return scored;
    return {
      ...scored,
      which: [HERE, 0, 0],
      places: scored.places.map((p, k) =>
        k === at
          ? { ...p, meant: HERE, good: scored.good >= MEANT ? Math.max(p.good, HERE) : p.good }
          : { meant: 0, good: 0, finding: 0 },
      ),
    };
  });
  return { ...scores, candidates };
}

/**
 * The place of a check that was told of last at its station, of another check; null where the words
 * say a place, or more than one thing, or nobody can know.
 */
function placeBeside(
  tokens: readonly { readonly word: string }[],
  input: CandidateInput,
  turns: Talk['turns'],
  byKey: Roster['byKey'],
): string | null {
  const { member } = input;
  if (member === null || !isOpen(tokens, input)) return null;
  for (const turn of turns.slice(-LATELY).reverse()) {
    const told = Object.entries(turn.said).filter(([, row]) => (row.what & SAID.result) !== 0);
    if (told.some(([key]) => key === member.key)) return null;
    const places = told.flatMap(([key, row]) =>
      byKey.get(key)?.station === member.station ? row.places : [],
    );
    const [place] = places;
    if (place !== undefined)
      return places.every((p) => p === place) && member.instances.includes(place) ? place : null;
    if (told.some(([key]) => byKey.get(key)?.station !== member.station)) return null;
    const said = saidIn(turn.text, member);
    if (said.length > 0) return said.length === 1 ? (said[0] ?? null) : null;
    if (told.length > 0) return null;
  }
  return null;
}

/** The places of a check of which a word is in a text: "down on one knee at the left leg". */
function saidIn(text: string, member: Member): string[] {
  const words = text
    .toLowerCase()
    .replace(NO_SIDE, '')
    .split(/[^a-z]+/)
    .map((w) => stem(w.replace(AT_A_WHEEL, '')));
  return member.instances.filter((_, i) =>
    member.instanceWords[i]?.every((w) => words.includes(w)),
  );
}
/** "Right then" is no side. */
const NO_SIDE = /^right\b|\bright (then|now|so|and|here|there|up|down|through|way|okay)\b/g;
/** "Nosewheel", "tailwheel": a place and a thing in one word. */
const AT_A_WHEEL = /(wheel|leg|gear)$/;

/**
 * The one place that was told of last of the check itself: "Straight. Dry." goes on with it. Null where the words say
 * a place or more than one thing, and where they name the check again: the next belt is another.
 */
function lastPlace(
  tokens: readonly { readonly word: string }[],
  input: CandidateInput,
  turns: Talk['turns'],
): string | null {
  const { member } = input;
  if (member === null || ownWords(input).length > 0 || !isOpen(tokens, input)) return null;
  const last = turns
    .slice(-LATELY)
    .reverse()
    .find((turn) => Object.values(turn.said).some((row) => (row.what & SAID.result) !== 0));
  const places = last?.said[member.key]?.places ?? [];
  return places.length === 1 ? (places[0] ?? null) : null;
}

/** A check at several places with names, none of which the words say. */
function isOpen(tokens: readonly { readonly word: string }[], input: CandidateInput): boolean {
  const { member, places } = input;
  const several = member !== null && member.check !== null && member.instances.length > 1;
  if (!several || member.instances.some(isNumber)) return false;
  const says = (which: readonly number[]): boolean =>
    places.some((row) => which.some((k) => (row[k] ?? 0) > 0));
  const words = tokens
    .map((t) => t.word)
    .join(' ')
    .replace(NO_PLACE, '');
  const plural = says([PLURAL]) && !isOwnPlural(tokens, input);
  const all = says([ALL]) && /\ball\b/.test(words);
  return !says(SAYS_WHICH) && !plural && !all && !ELSEWHERE.test(words);
}

/** "Pads thick": the catalogue calls one brake so, and it is no word for several. */
function isOwnPlural(tokens: readonly { readonly word: string }[], input: CandidateInput): boolean {
  const check = input.member?.check ?? null;
  if (check === null || check.repeat?.plural === true) return false;
  const name = check.name.toLowerCase().split(/[^a-z]+/);
  const also = new Set(check.say.flatMap((say) => say.toLowerCase().split(/[^a-z]+/)));
  const several = ownWords(input)
    .map((t) => tokens[t]?.word ?? '')
    .filter((w) => /s$/.test(w));
  return several.every((w) => also.has(w) && !name.includes(w));
}
const isNumber = (place: string): boolean => /\d$/.test(place);
/** Features of a place (scores/rows.ts): a word of it or of any other, its order, the others. */
const SAYS_WHICH = [2, 4, 5, 7, 15, 21] as const;
/** "All" said. */
const ALL = 6;
/** "This one" and "at all" say no place. */
const NO_PLACE = /\b(this|that) one\b|\bat all\b/g;
/** A plural beside the name. */
const PLURAL = 8;
/** Who else's, or where else. */
const ELSEWHERE =
  /\b(my|mine|your|yours|his|her|hers|our|ours|their|theirs|own|pilot|passenger|captain|opposite|far|behind|next|same|twin|mate|both|pair|other|others|each|every|either|neither|one|none|two|three|rest)\b/;
