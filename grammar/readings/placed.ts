import type { Decision } from '../decide.ts';
import { stem } from '../names.ts';
import type { CandidateInput } from '../scores/around.ts';
import { endsIn, shareAt } from './here.ts';
import { ownWords } from './said.ts';
import type { Scoring } from './scoring.ts';

/**
 * "Blade three has a nick", where the tail rotor has two blades and the main rotor three: of things that are
 * called alike it is the one that has that place. "Second sample clean" is the check of that name, and not
 * the second of the samples.
 */
export function byPlace(s: Scoring, decisions: readonly Decision[]): Decision[] {
  const taken = new Set(decisions.flatMap((d) => (d.kind === 'result' ? [d.index] : [])));
  const moved = decisions.map((d) => {
    const input = s.inputs.candidates[d.index];
    const check = input?.member?.check ?? null;
    if (d.kind !== 'result' || input === undefined || check === null) return d;
    const others = s.inputs.candidates.flatMap((c, index) =>
      c.member !== null && c.member.check !== null && !taken.has(index) ? [{ c, index }] : [],
    );
    const own = ownWords(input);
    if (own.length === 0) return d;
    const fuller = others.filter(({ c }) => isFuller(c, input));
    const meant = fuller.length > 0 ? fuller : others.filter(({ c }) => hasPlace(s, c, input));
    const [one] = meant;
    if (one === undefined || meant.length > 1) return d;
    taken.add(one.index);
    return { ...d, index: one.index };
  });
  const told = new Set(moved.flatMap((d) => (d.kind === 'result' ? [d.index] : [])));
  return moved.filter((d) => d.kind === 'result' || !told.has(d.index));
}

/** Named by the words that name the other in part, and by the word that would be its place. */
function isFuller(c: CandidateInput, input: CandidateInput): boolean {
  const own = ownWords(c);
  const other = ownWords(input);
  const places = input.placeAt.flat();
  return (
    (c.features[0] ?? 0) >= MOST &&
    own.length > other.length &&
    other.every((t) => own.includes(t)) &&
    places.length > 0 &&
    places.every((t) => own.includes(t))
  );
}

/** Called so as well, and a place of it is said beside the name, where the other has none of that name. */
function hasPlace(s: Scoring, c: CandidateInput, input: CandidateInput): boolean {
  const other = ownWords(input);
  if (input.placeAt.some((list) => list.length > 0)) return false;
  // "The two skids" counts them.
  if (c.places.some((row) => (row[PLURAL] ?? 0) > 0)) return false;
  const near = c.placeAt
    .flat()
    .some((t) => !other.includes(t) && other.some((o) => Math.abs(o - t) <= BESIDE));
  const noun = stem(s.words.tokens[other.at(-1) ?? 0]?.word ?? '');
  const called =
    other.every((t) => shareAt(c, t) > 0) && c.member !== null && endsIn(c.member, noun);
  return near && called;
}
/** From this share of its name it is named by more than a word that others share. */
const MOST = 0.6;
/** Feature of a place: a plural beside the name. */
const PLURAL = 8;
/** Words between a name and its place: "blade number three". */
const BESIDE = 2;
