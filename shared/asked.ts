import type { Check } from './catalogue.ts';
import type { Circumstance } from './circumstance.ts';

/** What a catalogue asks for, by day: enough to count it before the walk begins. */
export interface Asked {
  /** Checks of every walk. */
  readonly always: number;
  /** Checks of some days, with what about the day asks for them; none: only a finding or a squawk does. */
  readonly sometimes: readonly { readonly check: string; readonly on: readonly Circumstance[] }[];
}

export function askedOn(checks: readonly Check[]): Asked {
  return {
    always: checks.filter((c) => c.required === 'always').length,
    sometimes: checks.flatMap((c) =>
      c.required === 'always'
        ? []
        : [{ check: c.id, on: c.required === 'follow-up' ? [] : c.required }],
    ),
  };
}

/**
 * How many checks the walk will ask for as it begins: the number that its
 * coverage starts with. Carried squawks ask for their checks, and make it a
 * walk after a squawk.
 */
export function askedToday(
  { always, sometimes }: Asked,
  circumstances: Iterable<Circumstance>,
  squawks: { readonly open: number; readonly checks: readonly string[] },
): number {
  const today = new Set(circumstances);
  if (squawks.open > 0) today.add('after-squawk');
  const about = new Set(squawks.checks);
  return (
    always + sometimes.filter((s) => about.has(s.check) || s.on.some((c) => today.has(c))).length
  );
}
