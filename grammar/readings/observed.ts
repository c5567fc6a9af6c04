import type { Candidate, Force, Observation } from '#shared/statement';
import type { Decision } from '../decide.ts';
import type { Member } from '../matches/roster.ts';
import { FORCES, type Scored } from '../scores/scored.ts';
import { ownWords, spanIn } from './said.ts';
import type { Scoring } from './scoring.ts';

/** An observation before anything is said in it: of which check, how sure, why, beside which rivals. */

/** Candidates shown beside the one that was taken. */
const RIVALS = 3;
/** A rival below this share is not worth showing. */
const LEAST_RIVAL = 0.15;

/** The likeliest force of talk. */
export function forceOf(scored: Scored): Force {
  let best = 0;
  scored.forces.forEach((p, i) => {
    if (p > (scored.forces[best] ?? 0)) best = i;
  });
  return FORCES[best] ?? 'teaching';
}

export function base(s: Scoring, d: Decision, member: Member, scored: Scored): Observation {
  const rivals = likeliest(s, RIVALS + 1).filter((c) => c.check !== member.check?.id);
  const own: Candidate[] =
    member.check === null
      ? []
      : [
          {
            check: member.check.id,
            instances: [],
            score: round(Math.max(scored.result, scored.talk)),
            how: howNamed(s, member),
          },
        ];
  return {
    ...plain(s, d.sure, [howNamed(s, member)]),
    candidates: [...own, ...rivals.slice(0, RIVALS)],
  };
}

export function plain(s: Scoring, sure: number, why: string[]): Observation {
  const span = spanIn(s.words, 0, s.words.tokens.length);
  return {
    v: 1,
    id: s.nextId(),
    heard: s.heard.id,
    kind: 'observation',
    span,
    why,
    force: 'result',
    about: { kind: 'unplaced', part: '', span: null },
    candidates: [],
    verdict: null,
    conditions: [],
    values: [],
    acts: [],
    severity: null,
    amends: null,
    answers: null,
    compared: null,
    squawk: false,
    doubtful: null,
    sure: round(sure),
  };
}

export const round = (x: number): number => Math.round(Math.min(1, Math.max(0, x)) * 1000) / 1000;

/** The checks that were likeliest meant, best first. */
export function likeliest(s: Scoring, most: number): Candidate[] {
  return s.scores.candidates
    .flatMap((c, i): Candidate[] => {
      const member = s.inputs.candidates[i]?.member;
      const score = Math.max(c.result, c.talk, c.ask);
      return member === undefined || member === null || member.check === null || score < LEAST_RIVAL
        ? []
        : [
            {
              check: member.check.id,
              instances: [],
              score: round(score),
              how: howNamed(s, member),
            },
          ];
    })
    .sort((a, b) => b.score - a.score)
    .slice(0, most);
}

/** How a check was known: by which words, or by what was said before. */
export function howNamed(s: Scoring, member: Member): string {
  const input = s.inputs.candidates.find((c) => c.member === member);
  const own = input === undefined ? [] : ownWords(input);
  if (own.length > 0) {
    const words = spanIn(s.words, Math.min(...own), Math.max(...own) + 1).words;
    return `"${words.replace(/[.,;:!?]+$/, '')}" names it`;
  }
  if (input?.marks.some((m) => m.lag > 0) === true) return 'named before, and meant still';
  return 'the walk is there, and the words fit it';
}
