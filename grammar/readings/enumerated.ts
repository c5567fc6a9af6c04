import { senses } from '../matches/senses.ts';
import type { ConditionMatch } from '../matches/heardas.ts';
import type { CandidateInput, Inputs } from '../scores/around.ts';
import type { PlaceScored, Scored, Scores } from '../scores/scored.ts';
import { namedAlone } from './namedalone.ts';
import { isTalk } from './talk.ts';

/**
 * "Latches one, two, three locked, four open": places of one check, each with a word of how it is,
 * and nothing else. Here nothing is left to interpret, and a fault at one of them must not drown in
 * the praise of the others (R4, R6), so the row is read as it stands, whatever the scores hold.
 */

/** The share that a plain row is worth; above every threshold of decide.ts. */
const PLAIN = 0.995;
/** From here the scores hold a check that no word names to be reported on. */
const MEANT = 0.5;
/** So much of a name tells that another thing is spoken of. */
const NAMED = 0.7;

/** Words between places and states that change nothing. */
const JOINING =
  /^(the|a|an|is|are|and|both|number|numbers|but|it|has|have|had|got|looks?|feels?|seems?|only|still|just|very|nice|nicely|all|then|there|in|on|at|of)$/;

type State = 'good' | 'fault' | 'either';

interface Segment {
  readonly places: number[];
  state: State | null;
  /** Something is denied here: what "one no cracks" denies is not what "two cracked" says. */
  denied: boolean;
  conditions: number[];
}
const empty = (): Segment => ({ places: [], state: null, denied: false, conditions: [] });

/** The scores, with the places of a plain row made sure of. */
export function enumerated(inputs: Inputs, scores: Scores): Scores {
  if (isTalk(inputs) || inputs.tokens.some((t) => t.asks)) return scores;
  const index = checkOf(inputs, scores);
  const input = index === null ? undefined : inputs.candidates[index];
  const old = index === null ? undefined : scores.candidates[index];
  if (input === undefined || old === undefined) return scores;
  const row = rowOf(inputs, input);
  if (row === null) return scores;
  const made = scoredBy(row, inputs, old);
  const candidates = scores.candidates.map((s, i) =>
    i === index ? made : { ...s, result: 0, good: 0, finding: 0, ask: 0, talk: 0 },
  );
  return { ...scores, candidates };
}

/** The one check of several places that is named; where none is, the one that the scores mean. */
function checkOf(inputs: Inputs, scores: Scores): number | null {
  const { candidates } = inputs;
  const isSeveral = (i: number): boolean => (candidates[i]?.member?.instances.length ?? 0) > 1;
  const isCheck = (i: number): boolean => (candidates[i]?.member?.check ?? null) !== null;
  const one = namedAlone(inputs, { from: 0, to: inputs.tokens.length });
  if (one !== null) return isCheck(one) && isSeveral(one) ? one : null;
  const isNamed = (i: number): boolean =>
    isCheck(i) && (candidates[i]?.marks ?? []).some((m) => m.lag === 0 && m.name >= NAMED);
  if (candidates.some((_, i) => isNamed(i))) return null;
  const meant = candidates.flatMap((_, i) =>
    isCheck(i) && (scores.candidates[i]?.result ?? 0) >= MEANT ? [i] : [],
  );
  const [only] = meant;
  return meant.length === 1 && only !== undefined && isSeveral(only) ? only : null;
}

/** Each place with its state, in the order of the words; null where anything else is said. */
function rowOf(inputs: Inputs, input: CandidateInput): readonly Segment[] | null {
  const { tokens, conditions } = inputs;
  const { names } = senses();
  const own = new Set(input.marks.flatMap((m) => (m.lag === 0 && m.name > 0 ? [m.token] : [])));
  const at = new Map<number, number[]>();
  input.placeAt.forEach((list, place) => {
    for (const token of list) at.set(token, [...(at.get(token) ?? []), place]);
  });
  const segments: Segment[] = [];
  let open = empty();
  for (let i = 0; i < tokens.length; i += 1) {
    const token = tokens[i];
    if (token === undefined) return null;
    const here = at.get(i);
    // "The first one": the one of it, and not the place of that number.
    const pronoun = token.word === 'one' && at.has(i - 1) && token.gap === 0;
    if (pronoun) continue;
    if (here !== undefined) {
      if (open.state !== null) {
        segments.push(open);
        open = empty();
      }
      for (const place of here) if (!open.places.includes(place)) open.places.push(place);
      continue;
    }
    if (own.has(i)) {
      // "Two has three rivets loose", "three latches locked": a number before the name counts.
      if (at.has(i - 1) && isCount(tokens[i - 1]?.word ?? '')) return null;
      continue;
    }
    const found = conditions.flatMap((c, k) => (i >= c.from && i < c.to ? [k] : []));
    const state = stateOf(
      found.flatMap((k) => conditions[k] ?? []),
      open.denied,
      token.senses.some((k) => names[k] === 'verdict-good'),
    );
    if (state !== null) {
      // A state before any place is of them all, and a second one of a place turns the first.
      if (open.places.length === 0 || (open.state !== null && open.state !== state)) return null;
      open.state = state;
      open.conditions = [...new Set([...open.conditions, ...found])];
      continue;
    }
    const denial = token.senses.some((k) => (names[k] ?? '').startsWith('denial-before'));
    if (denial && (open.denied || open.state !== null)) return null;
    if (denial) open.denied = true;
    else if (!JOINING.test(token.word)) return null;
  }
  if (open.state === null) return null;
  segments.push(open);
  const places = segments.flatMap((s) => s.places);
  const once = new Set(places).size === places.length;
  return segments.length > 1 && once ? settled(segments) : null;
}

const isCount = (word: string): boolean =>
  /^(\d+|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve)$/.test(word);

/** What a word says of a place; null for a word that says nothing of it. */
function stateOf(found: readonly ConditionMatch[], denied: boolean, good: boolean): State | null {
  const strong = found.some((c) => !c.weak && !c.either);
  // "Four not locked" denies a good, and is left to the scores.
  if (denied) return found.length > 0 && strong ? 'good' : null;
  if (found.length === 0) return good ? 'good' : null;
  if (good) return strong ? null : 'good';
  return strong ? 'fault' : 'either';
}

/**
 * "Three locked, four open": what may be meant either way is the fault beside a good of its kind, and
 * nothing where there is none to tell it by.
 */
function settled(segments: readonly Segment[]): readonly Segment[] | null {
  const well = segments.some((s) => s.state === 'good');
  if (segments.some((s) => s.state === 'either') && !well) return null;
  return segments.map((s) => (s.state === 'either' ? { ...s, state: 'fault' as const } : s));
}

function scoredBy(row: readonly Segment[], inputs: Inputs, old: Scored): Scored {
  const isIn = (state: State, place: number): boolean =>
    row.some((s) => s.state === state && s.places.includes(place));
  const places = old.places.map((_, i): PlaceScored => {
    const [good, fault] = [isIn('good', i), isIn('fault', i)];
    return {
      meant: good || fault ? PLAIN : 0,
      good: good ? PLAIN : 0,
      finding: fault ? PLAIN : 0,
    };
  });
  const any = (state: State): number => (row.some((s) => s.state === state) ? PLAIN : 0);
  const present = new Set(row.flatMap((s) => (s.state === 'fault' ? s.conditions : [])));
  const absent = new Set(row.flatMap((s) => (s.state === 'good' ? s.conditions : [])));
  const conditions = inputs.conditions.map((c, k): number[] =>
    present.has(k) ? [0, 1, 0] : absent.has(k) && !c.weak ? [0, 0, 1] : [1, 0, 0],
  );
  return {
    ...old,
    result: PLAIN,
    good: any('good'),
    finding: any('fault'),
    ask: 0,
    talk: 0,
    which: [1, 0, 0],
    conditions,
    places,
  };
}
