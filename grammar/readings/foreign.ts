import type { Candidate, Observation, Span } from '#shared/statement';
import { DECIDE, type Decision } from '../decide.ts';
import type { ConditionMatch } from '../matches/heardas.ts';
import { foreignIn } from '../matches/kin.ts';
import { SIDE_WORDS, stem } from '../names.ts';
import type { CandidateInput } from '../scores/around.ts';
import { tellsEvent } from './happenings.ts';
import { isSpokenOf } from './here.ts';
import { howNamed, plain } from './observed.ts';
import { conditionAt, ownWords, spanIn } from './said.ts';
import { ratedIn } from './rated.ts';
import type { Scoring } from './scoring.ts';
import { isTalk } from './talk.ts';

/**
 * "Left main tyre has a cut", on an aircraft on skids: a fault of a thing that is known, and on no
 * check of this catalogue. It is kept without a place (R4), and is not at the left door because
 * that is on the left as well.
 */

/** A fault of a thing that is on no check by this name. */
export interface ForeignFault {
  /** The decisions without those that put it where only a side, or nothing, was said of. */
  readonly rest: readonly Decision[];
  /** The words for the thing, its sides before them. */
  readonly part: Span;
  /** What it may be here. */
  readonly candidates: readonly Candidate[];
  readonly condition: ConditionMatch;
}

/** Null where nothing of the kind is said, or the fault is at something that the words name. */
export function foreignFault(s: Scoring, decisions: readonly Decision[]): ForeignFault | null {
  const condition = s.inputs.conditions.find((c) => !c.weak && !c.either && c.denials === 0);
  const thing = foreignIn(s.roster, s.words.tokens);
  if (condition === undefined || thing === null) return null;
  if (isTalk(s.inputs) || tellsEvent(s.words.tokens) || overlaps(thing, condition)) return null;
  const asked = new Set(s.scene.question?.options.map((o) => o.candidate?.check));
  const isStray = (input: CandidateInput | undefined): boolean =>
    input !== undefined &&
    !thing.members.has(input.member?.index ?? -1) &&
    !asked.has(input.member?.check?.id) &&
    !isSpokenOf(input) &&
    isOfSideOnly(s, input);
  const faults = decisions.filter((d) => d.kind === 'result' && d.finding !== 'no');
  // Where no fault was seen at anything, nothing is made of it here: the scores hold it for talk.
  if (faults.length === 0 || !faults.every((d) => isStray(s.inputs.candidates[d.index])))
    return null;
  let { from } = thing;
  while (from > 0 && SIDE_WORDS.has(stem(s.words.tokens[from - 1]?.word ?? ''))) from -= 1;
  return {
    rest: decisions.filter((d) => !faults.includes(d)),
    part: spanIn(s.words, from, thing.to),
    candidates: s.inputs.candidates.flatMap(({ member }): Candidate[] =>
      member === null || member.check === null || !thing.held.includes(member.index)
        ? []
        : [{ check: member.check.id, instances: [], score: 0.5, how: howNamed(s, member) }],
    ),
    condition,
  };
}

/** It is kept, without a place (R4). */
export function foreignSaid(s: Scoring, fault: ForeignFault): Observation {
  const { part, candidates, condition: c } = fault;
  const why = ['a fault of a thing that is on no check by this name: kept without a place (R4)'];
  return {
    ...plain(s, DECIDE.unplaced, why),
    about: { kind: 'unplaced', part: part.words.replace(/[.,;:!?]+$/, ''), span: part },
    candidates: candidates.slice(0, MOST),
    conditions: [
      {
        ...conditionAt(c.id, true, null, s.roster.catalogue, c.sign),
        span: spanIn(s.words, c.from, c.to),
      },
    ],
    squawk: s.squawk,
    severity: ratedIn(s.words.tokens, s.scores),
  };
}
/** So many places are offered for a fault. */
const MOST = 3;

/** Whether of the name of a check only its side was said. */
function isOfSideOnly({ words, roster }: Scoring, input: CandidateInput): boolean {
  // A word that is on no list here is nobody's own: "tyre" sounds a little like a door.
  const own = ownWords(input)
    .map((t) => stem(words.tokens[t]?.word ?? ''))
    .filter((word) => roster.worth.has(word));
  return own.length > 0 && own.every((word) => SIDE_WORDS.has(word) || ENDS.has(word));
}

/** "Tail wheel", "nose wheel": where on the aircraft, as a side is. */
const ENDS: ReadonlySet<string> = new Set(['tail', 'nose', 'main']);

type Run = { readonly from: number; readonly to: number };
const overlaps = (a: Run, b: Run): boolean => a.from < b.to && b.from < a.to;
