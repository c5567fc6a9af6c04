import type { Check } from '#shared/catalogue';
import { aspectsOf } from '../aspects.ts';
import type { ConditionMatch } from '../matches/heardas.ts';

/** What a fault is called that the scores see and give no name. */

/** "The lock's still in": of what has to be off before the flight it is the fault, and needs no other name. */
export const isLeftOn = (conditions: readonly ConditionMatch[], check: Check | null): boolean =>
  check !== null &&
  check.aspects.some((a) => a.id === REMOVED) &&
  conditions.some((c) => c.id === 'fitted-still' && c.denials === 0);
const REMOVED = 'removed';

/** The fault that is named outright and undenied, where there is one. */
export function onlyFault(conditions: readonly ConditionMatch[]): ConditionMatch | null {
  const named = conditions.filter((c) => !c.either && c.denials === 0 && c.checks === null);
  const plain = named.filter((c) => c.sign === null);
  return plain.find((c) => !c.weak) ?? plain[0] ?? null;
}

/** "The left door is not latching": the one fault that is named and that this check can have. */
export function fittingFault(
  conditions: readonly ConditionMatch[],
  check: Check | null,
): ConditionMatch | null {
  if (check === null) return null;
  const fits = conditions.filter(
    (c) => !c.weak && !c.either && c.denials === 0 && aspectsOf(check).fit(c.id) === 2,
  );
  return new Set(fits.map((c) => c.id)).size === 1 ? (fits[0] ?? null) : null;
}
