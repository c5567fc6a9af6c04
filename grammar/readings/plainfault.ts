import { DECIDE, type Decision } from '../decide.ts';
import { senses } from '../matches/senses.ts';
import type { Scoring } from './scoring.ts';

/**
 * "The left door no longer latches": one check, named by its whole name and reported on, and a fault
 * in so many words that nothing denies or supposes. It is a fault, though the scores only ask (R4).
 */
export function plainFaults(s: Scoring, decisions: readonly Decision[]): Decision[] {
  const faults = decisions.filter((d) => d.finding !== 'no');
  const [fault] = faults;
  if (fault === undefined || faults.length > 1 || fault.finding === 'counts' || fault.doubt)
    return [...decisions];
  const said = s.scores.candidates[fault.index];
  const whole = (s.inputs.candidates[fault.index]?.features[NAME] ?? 0) >= WHOLE_NAME;
  const strong = s.inputs.conditions.filter((c) => !c.weak && !c.either);
  const plain =
    whole &&
    said !== undefined &&
    said.result >= DECIDE.reported &&
    s.scene.question === null &&
    strong.length > 0 &&
    strong.every((c) => c.denials === 0) &&
    !isSupposed(s);
  return plain
    ? decisions.map((d) => (d === fault ? { ...d, good: 'no', finding: 'counts' } : d))
    : [...decisions];
}

/** Whether a word asks, teaches, supposes, reports what others said or tells of another time. */
function isSupposed({ words, inputs }: Scoring): boolean {
  const { names } = senses();
  return (
    words.tokens.some((t) => t.asks) ||
    inputs.tokens.some((t) => t.senses.some((k) => names[k]?.startsWith('force-') ?? false))
  );
}

/** Feature of a candidate: the share of its name that is said. */
const NAME = 0;
/** As in scores/features.ts: the whole name, but for how it was heard. */
const WHOLE_NAME = 0.97;
