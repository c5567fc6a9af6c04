import type { Decision } from '../decide.ts';
import { ownWords } from './said.ts';
import type { Scoring } from './scoring.ts';

/**
 * A fault that is half seen at several checks, none of them named, is asked about at the likeliest: a
 * question at each would ask the same thing over (R5).
 */
export function askedOnce(s: Scoring, decisions: readonly Decision[]): Decision[] {
  if (s.scene.question !== null || s.squawk) return [...decisions];
  const share = (d: Decision): number => s.scores.candidates[d.index]?.finding ?? 0;
  const faults = decisions.filter((d) => d.kind === 'result' && d.finding !== 'no');
  const best = Math.max(0, ...faults.map(share));
  return decisions.filter((d) => {
    if (!isAskedOnly(d) || isNamed(s, d)) return true;
    return share(d) === best || share(d) >= BESIDE;
  });
}

/** Beside a check that more of a fault is seen at another is asked about from here only, where no word names it. */
const BESIDE = 0.3;

const isAskedOnly = (d: Decision): boolean =>
  d.kind === 'result' && d.finding === 'asked' && d.good === 'no' && !d.value;

function isNamed(s: Scoring, { index }: Decision): boolean {
  const input = s.inputs.candidates[index];
  return input !== undefined && ownWords(input).length > 0;
}
