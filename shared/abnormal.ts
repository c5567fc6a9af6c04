import type { Catalogue, Check, Measure } from './catalogue.ts';
import type { Observation, ValueSaid } from './statement.ts';
import { unitWords } from './speech.ts';

/** Where a value stands: inside its limits, outside them, or it cannot be told (R8). */
export type Inside = 'inside' | 'outside' | 'untold';

/**
 * Conversions between units leave rounding behind: six quarts through litres
 * come back as 5.9999999996. Too large: a value outside its limit is let pass.
 * A millionth of the limit is far below anything that is read off a gauge.
 */
const ROUNDING = 1e-6;

/** The measure of a check that a value belongs to; the only one when the value names none. */
export function measureOf(check: Check, value: ValueSaid): Measure | null {
  if (value.measure !== null) return check.measures.find((m) => m.id === value.measure) ?? null;
  return check.measures.length === 1 ? (check.measures[0] ?? null) : null;
}

/** Index of a gauge's step by name, lowest 0; null when the gauge or the step is not there. */
function stepIndex(catalogue: Catalogue, gauge: string, name: string): number | null {
  const steps = catalogue.gauges.find((g) => g.id === gauge)?.steps ?? [];
  const wanted = name.toLowerCase();
  const index = steps.findIndex((s) => s.name.toLowerCase() === wanted);
  return index < 0 ? null : index;
}

/** Lowest and highest value within limits, in the measure's unit or as indexes of its gauge; null means no limit. */
export function limitsOf(
  catalogue: Catalogue,
  measure: Measure,
): { low: number | null; high: number | null } {
  if (measure.gauge === undefined) {
    return { low: measure.low ?? null, high: measure.high ?? null };
  }
  const at = (name: string | undefined) =>
    name === undefined ? null : stepIndex(catalogue, measure.gauge ?? '', name);
  return { low: at(measure.atLeast), high: at(measure.atMost) };
}

/**
 * Holds a value against the limits of its measure (R8). A range counts as
 * outside as soon as one of its ends is.
 */
export function inside(catalogue: Catalogue, measure: Measure, value: ValueSaid): Inside {
  if (value.trouble !== null) return 'untold';
  const said =
    measure.gauge === undefined
      ? value.inUnit
      : value.step === null
        ? null
        : { low: value.step.index, high: value.step.index };
  if (said === null) return 'untold';
  const { low, high } = limitsOf(catalogue, measure);
  const tooLow = low !== null && said.low < low - Math.abs(low) * ROUNDING;
  const tooHigh = high !== null && said.high > high + Math.abs(high) * ROUNDING;
  return tooLow || tooHigh ? 'outside' : 'inside';
}

/** "at least 6 quarts", "between 28 and 32 p s i", "at most second knuckle". */
export function limitText(measure: Measure): string {
  const unit = measure.unit === undefined ? '' : ` ${unitWords(measure.unit)}`;
  const low = measure.gauge === undefined ? measure.low : measure.atLeast;
  const high = measure.gauge === undefined ? measure.high : measure.atMost;
  if (low !== undefined && high !== undefined) return `between ${low} and ${high}${unit}`;
  if (low !== undefined) return `at least ${low}${unit}`;
  if (high !== undefined) return `at most ${high}${unit}`;
  return 'without a limit';
}

/** Values of an observation that lie outside the limits of its check. */
export function outsideOf(
  catalogue: Catalogue,
  check: Check | null,
  said: Observation,
): readonly { measure: Measure; value: ValueSaid }[] {
  if (check === null) return [];
  return said.values.flatMap((value) => {
    const measure = measureOf(check, value);
    return measure !== null && inside(catalogue, measure, value) === 'outside'
      ? [{ measure, value }]
      : [];
  });
}

/**
 * Whether an observation asserts something abnormal, so that it is a finding
 * and may never be dropped (R2, R3, R4, R8). What is doubtful is asked about
 * first.
 */
export function isFinding(catalogue: Catalogue, check: Check | null, said: Observation): boolean {
  if (said.force !== 'result' || said.doubtful !== null) return false;
  return (
    said.conditions.some((c) => c.present) ||
    said.verdict?.good === false ||
    (said.compared !== null && said.compared !== 'gone') ||
    outsideOf(catalogue, check, said).length > 0
  );
}
