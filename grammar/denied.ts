import type { Clause } from './clauses.ts';
import { joint } from './joints.ts';
import type { SensePiece } from './pieces.ts';
import { speaking } from './predicates.ts';
import { denialOf } from './scope.ts';
import type { Token } from './tokens.ts';

/** Articles, sides and a count before a name. */
const NAME_START = 3;

/**
 * Denial of one predicate inside its clause (R3). A denial does not reach past a
 * name that begins something new, nor past a verdict; behind its word it reaches
 * back only over a plain list ("cracks or dents: none").
 */
export function deniedIn(
  clause: Clause,
  target: SensePiece,
  tokens: readonly Token[],
): { count: number; cue: string | null; near: boolean } {
  let low = clause.from;
  let high = clause.to;
  const preds = clause.preds.filter(speaking);
  for (const item of [...clause.items, ...clause.places]) {
    if (item.to <= target.from && preds.some((p) => p.to <= item.from))
      low = Math.max(low, item.to);
    // "That's not right, the rudder stop's bent": a name behind a pause begins anew.
    if (item.to <= target.from) {
      let start = item.from;
      while (start > low && (tokens[start]?.gap ?? 0) === 0 && start > item.from - NAME_START)
        start -= 1;
      if ((tokens[start]?.gap ?? 0) > 0) low = Math.max(low, start);
    }
    if (item.from >= target.to) high = Math.min(high, item.from);
  }
  for (const pred of preds) {
    // "Not closed, is open": what begins with its own copula says something new.
    const fresh = joint('copula').has(tokens[target.from]?.word ?? '');
    if (pred.to <= target.from && (fresh || pred.senses.every((s) => s.kind === 'verdict')))
      low = Math.max(low, pred.to);
  }
  // Behind: stop at the first word that is neither part of a list nor a copula.
  for (let i = target.to; i < high; i += 1) {
    const word = tokens[i]?.word ?? '';
    const inPred = preds.some((p) => p.from <= i && i < p.to);
    if (
      inPred ||
      /^(and|or|nor|is|are|was|were|there|any|no|not|none|nil|zero|at|all|has|been|seen|found|visible|present|evident|negative|absent|noted|can|i|see|that|to|be|do|did)$/.test(
        word,
      )
    )
      continue;
    high = i;
    break;
  }
  const words = tokens.slice(low, high).map((t) => t.word);
  const denial = denialOf(words, { from: target.from - low, to: target.to - low });
  const distance = denial.at === null ? 99 : target.from - low - denial.at.to;
  // "What do you feel? Nothing, good.": an answer, and then a verdict.
  const answered =
    denial.at !== null &&
    distance === 0 &&
    (tokens[target.from]?.gap ?? 0) > 0 &&
    /^(nothing|none|no|negative)$/.test(denial.cue ?? '');
  const between =
    denial.at !== null &&
    preds.some((p) => p.from >= (denial.at?.to ?? 0) + low && p.to <= target.from);
  return {
    count: denial.count,
    cue: denial.cue,
    near: distance >= 0 && distance <= 2 && !between && !answered,
  };
}
