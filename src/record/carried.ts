import type { Observation } from '#shared/statement';

/** An open squawk that a walk began with, and its title, such as "Left skid tubes: crack". */
export interface CarriedSquawk {
  readonly squawk: string;
  readonly check: string | null;
  readonly text: string;
}

/**
 * The open squawk that a comparison ("same as before", "it's gone") is about:
 * the one that was asked about, or the only one at its check, or the only one
 * whose title has the place and the condition that were said. Null when that
 * leaves more than one: closing the wrong one loses a fault, so each is asked
 * about by name.
 */
export function carriedMeant<T extends CarriedSquawk>(
  said: Observation,
  carried: readonly T[],
): T | null {
  if (said.compared === null || said.force !== 'result' || said.about.kind !== 'check') return null;
  const { check, which } = said.about;
  const here = carried.filter((c) => c.check === check && !isElsewhere(c, which));
  if (said.answers !== null) {
    const asked = here.find((c) => said.answers === recheckId(c.squawk));
    if (asked !== undefined) return asked;
  }
  if (here.length < 2) return here[0] ?? null;
  const hints = [
    ...(which.how === 'named' ? which.instances : []),
    ...said.conditions.map((c) => c.condition.replaceAll('-', ' ')),
  ].map((hint) => hint.toLowerCase());
  if (hints.length === 0) return null;
  const fitting = here.filter((c) => hints.every((hint) => c.text.toLowerCase().includes(hint)));
  return fitting.length === 1 ? (fitting[0] ?? null) : null;
}

/** "Right tube, same as before" says nothing of a squawk on the left one. */
function isElsewhere(
  carried: CarriedSquawk,
  which: Extract<Observation['about'], { kind: 'check' }>['which'],
): boolean {
  if (which.how !== 'named') return false;
  const head = (carried.text.split(':')[0] ?? '').toLowerCase().split(/[^a-z0-9]+/);
  const sides = head.filter((w) => SIDES.has(w));
  return sides.length > 0 && !sides.some((side) => which.instances.includes(side));
}

const SIDES = new Set(
  'left right upper lower forward aft inboard outboard front rear top bottom'.split(' '),
);

/** Id of the question that asks about an open squawk. */
export function recheckId(squawk: string): string {
  return `${squawk}/recheck`;
}
