import type { Candidate, Statement } from '#shared/statement';
import { DECIDE, type Decision } from '../decide.ts';
import type { CandidateInput } from '../scores/around.ts';
import type { Scored } from '../scores/scored.ts';
import { nearness } from './here.ts';
import { unplacedFrom } from './lecture.ts';
import { howNamed, likeliest, plain, round } from './observed.ts';
import { conditionAt, ownWords, partOf, spanIn, unnamedCondition } from './said.ts';
import { ratedIn } from './rated.ts';
import type { Scoring } from './scoring.ts';
import { isFaultUnread } from './strange.ts';

/** From so many checks on, a fault that may be at each of them is asked about once: where it is. */
const SCATTERED = 2;

/**
 * "Left brake line chafed", where no left brake line is on the list: the scores see a little of the
 * fault at each line and at each brake. It is a fault all the same, kept once and without a place (R4),
 * and no question at each of them (R5). Empty where it is at one of them, or none is told plainly.
 */
export function scatteredIn(s: Scoring, decisions: readonly Decision[]): readonly Decision[] {
  const faults = decisions.filter((d) => d.kind === 'result' && d.finding !== 'no');
  const scattered =
    faults.length >= SCATTERED &&
    s.scene.question === null &&
    s.inputs.conditions.length > 0 &&
    faults.every((d) => d.finding === 'asked' && d.good === 'no' && !d.value) &&
    anywhere(s) >= DECIDE.unplaced;
  if (!scattered) return [];
  // "Disc has a groove", at the right wheel: the one that is here and called so is asked about, no other.
  const here = faults.filter(({ index }) => {
    const input = s.inputs.candidates[index];
    const station = input?.member?.station.id;
    return input !== undefined && station === s.scene.station && ownWords(input).length > 0;
  });
  const [one] = here;
  return one !== undefined && here.length === 1 ? faults.filter((d) => d !== one) : faults;
}

/** The share that there is a fault at all, were those at each thing apart. */
export const anywhere = ({ scores }: Scoring): number =>
  1 - scores.candidates.reduce((none, { finding }) => none * (1 - finding), 1);

/** So many places are offered for a fault. */
const MOST = 3;

/** Where a scattered fault may be: what the words name first, then what they mean. */
function asNamed(s: Scoring, scattered: readonly Decision[]): Candidate[] {
  const near = ({ index }: Decision): number => nearness(s.inputs.candidates[index]);
  return [...scattered]
    .sort((a, b) => near(b) - near(a))
    .slice(0, MOST)
    .flatMap(({ index, sure }) => {
      const member = s.inputs.candidates[index]?.member ?? null;
      return member === null || member.check === null
        ? []
        : [
            {
              check: member.check.id,
              instances: [],
              score: round(sure),
              how: howNamed(s, member),
            },
          ];
    });
}

/** A finding that fits nothing on the list is kept all the same (R4). */
export function unplacedOf(
  s: Scoring,
  scored: Scored,
  input: CandidateInput,
  placed: boolean,
  scattered: readonly Decision[] = [],
): Statement | null {
  const { words } = s;
  const span = spanIn(words, 0, words.tokens.length);
  if (scored.finding >= unplacedFrom(s) && !placed) {
    const conditions = input.conditions.flatMap((_, i) => {
      const match = s.inputs.conditions[i];
      const [none = 1, present = 0] = scored.conditions[i] ?? [];
      // Where the fault is at nothing of its own, the scores of "nothing" say little of which it is.
      const said = scattered.length > 0 && match?.denials === 0 && !match.weak;
      return match === undefined || (present < none && !said)
        ? []
        : [
            {
              ...conditionAt(match.id, true, null, s.roster.catalogue, match.sign),
              span: spanIn(words, match.from, match.to),
            },
          ];
    });
    const first = s.inputs.conditions.find(
      (_, i) => (scored.conditions[i]?.[1] ?? 0) >= (scored.conditions[i]?.[0] ?? 1),
    );
    const id = unnamedCondition(scored, s.labels);
    const kept =
      conditions.length > 0
        ? conditions.slice(0, 1)
        : id === null
          ? []
          : [{ ...conditionAt(id, true, null, s.roster.catalogue), span }];
    return {
      ...plain(s, scored.finding, []),
      force: 'result',
      about: { kind: 'unplaced', part: partOf(words, first ?? null), span },
      candidates: scattered.length > 0 ? asNamed(s, scattered) : likeliest(s, MOST),
      verdict: kept.length > 0 ? null : { good: false, aspects: [], actOnly: false, span },
      conditions: kept,
      squawk: s.squawk,
      severity: ratedIn(words.tokens, s.scores),
    };
  }
  if (scored.ask < DECIDE.unclear) return null;
  const unknown = !placed && isFaultUnread(s.inputs, words.tokens) ? unknownFault(s) : null;
  if (unknown !== null) return unknown;
  return {
    v: 1,
    id: s.nextId(),
    heard: s.heard.id,
    kind: 'not-understood',
    chatter: false,
    span,
    why: ['it sounds like a result, and what of is open (R5)'],
  };
}

/**
 * "The doodlebug is cracked": a fault outright, of something that nobody knows. It is kept without a place, so
 * that it can be put where it belongs (R4); null where no fault is named.
 */
export function unknownFault(s: Scoring): Statement | null {
  const { words, roster } = s;
  // "The pogo stick is bent": what is said of it stands last, and its name may sound like a fault.
  const match = s.inputs.conditions.findLast((c) => !c.weak && !c.either && c.denials === 0);
  if (match === undefined) return null;
  const span = spanIn(words, 0, words.tokens.length);
  const condition = conditionAt(match.id, true, null, roster.catalogue, match.sign);
  return {
    ...plain(s, DECIDE.unplaced, ['a fault of something that nobody knows (R4)']),
    force: 'result',
    about: { kind: 'unplaced', part: partOf(words, match), span },
    candidates: [],
    verdict: null,
    conditions: [{ ...condition, span: spanIn(words, match.from, match.to) }],
    squawk: s.squawk,
    severity: null,
  };
}
