import { signsOf } from '#shared/catalogue';
import { DECIDE, type Decision } from '../decide.ts';
import { severitiesIn } from './said.ts';
import type { Scoring } from './scoring.ts';
import { isTalk } from './talk.ts';
import { isHedged } from './vetoes.ts';

/**
 * "The left door no longer latches": one check, named in full and reported on. "Propeller nick, watch
 * it": of what the name may mean, one alone is looked at for nicks, and how bad it is was said. A fault
 * in so many words that nothing denies or supposes is one, though the scores only ask (R4).
 */
export function plainFaults(s: Scoring, decisions: readonly Decision[]): Decision[] {
  const { inputs, roster, scores, scene, words } = s;
  const faults = decisions.filter((d) => d.finding !== 'no');
  const [fault] = faults;
  if (fault === undefined || faults.length > 1 || fault.finding === 'counts' || fault.doubt)
    return [...decisions];
  const strong = inputs.conditions.filter((c) => !c.weak && !c.either);
  const told = strong.length > 0 && strong.every((c) => c.denials === 0);
  if (!told || scene.question !== null || isTalk(inputs) || isHedged(inputs)) return [...decisions];
  const share = inputs.candidates[fault.index]?.features[NAME] ?? 0;
  const reported = (scores.candidates[fault.index]?.result ?? 0) >= DECIDE.reported;
  // "Propeller" is blades and bolts: a nick is looked for on the blades alone.
  const looked = inputs.candidates.flatMap((c, i) => {
    const check = c.member?.check ?? null;
    if (check === null || (c.features[NAME] ?? 0) < PART_OF_NAME) return [];
    const signs = signsOf(roster.catalogue, check);
    return strong.every((o) => signs.some((sign) => sign.conditions.includes(o.id))) ? [i] : [];
  });
  const rated = severitiesIn(words.tokens).length === 1;
  const plain =
    (share >= WHOLE_NAME && reported) ||
    (rated && looked.length === 1 && looked[0] === fault.index);
  return plain
    ? decisions.map((d) => (d === fault ? { ...d, good: 'no', finding: 'counts' } : d))
    : [...decisions];
}

/** Feature of a candidate: the share of its name that is said. */
const NAME = 0;
/** As in scores/features.ts: the whole name, but for how it was heard. */
const WHOLE_NAME = 0.97;
/** So much of a name tells which is meant where a fault and how bad it is are said beside it. */
const PART_OF_NAME = 0.35;
