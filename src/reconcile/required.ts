import type { Circumstance } from '#shared/circumstance';
import { CIRCUMSTANCE_WORDS } from '#shared/circumstance';
import type { Required } from '#shared/coverage';
import type { Spot } from './atlas.ts';
import type { Demand } from './findings.ts';

/** What about today bears on what is required. */
export interface Today {
  readonly circumstances: ReadonlySet<Circumstance>;
  /** Texts of the open squawks of each check. */
  readonly squawks: ReadonlyMap<string, readonly string[]>;
}

const no: Pick<Required, 'circumstance' | 'because'> = { circumstance: null, because: null };
const ALWAYS: Required = { ...no, today: true, by: 'always' };
const NOT: Required = { ...no, today: false, by: 'not' };

/**
 * Whether and why a check is required today. What a finding demands and what an
 * open squawk demands come first, because they ask for more than a routine look.
 */
export function requiredToday(spot: Spot, today: Today, demands: readonly Demand[]): Required {
  const demand = demands[0];
  if (demand !== undefined) {
    const because = [...new Set(demands.map((d) => d.because))].join(' ');
    return { ...no, today: true, by: 'follow-up', because };
  }
  const squawks = today.squawks.get(spot.check.id);
  if (squawks !== undefined) {
    return { ...no, today: true, by: 'squawk', because: squawks.join('; ') };
  }
  const required = spot.check.required;
  if (required === 'always') return ALWAYS;
  if (required === 'follow-up') return NOT;
  const holds = required.find((c) => today.circumstances.has(c));
  return holds === undefined
    ? NOT
    : { today: true, by: 'circumstance', circumstance: holds, because: CIRCUMSTANCE_WORDS[holds] };
}
