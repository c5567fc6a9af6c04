import type { Catalogue, Check, Measure } from './catalogue.ts';
import { placedValues, type PlacedValue } from './rows.ts';
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

/** A value outside the limits of its measure, with its place where it stands in a row. */
export type Outside = PlacedValue & { readonly measure: Measure };

/** Values of an observation that lie outside the limits of its check. */
export function outsideOf(
  catalogue: Catalogue,
  check: Check | null,
  said: Observation,
): readonly Outside[] {
  if (check === null) return [];
  return placedValues(check, said).flatMap((placed) => {
    const { measure, value } = placed;
    return measure !== null && inside(catalogue, measure, value) === 'outside'
      ? [{ ...placed, measure }]
      : [];
  });
}

/** Of values outside their limits the one that is farthest out, where they stand in a row; otherwise the last. */
export function worstOf(catalogue: Catalogue, outside: readonly Outside[]): Outside | null {
  const last = outside.at(-1) ?? null;
  if (last?.at === undefined) return last;
  return outside.reduce((a, b) => (beyond(catalogue, b) > beyond(catalogue, a) ? b : a));
}

/** How far a value lies outside, in the unit of its measure or in steps of its gauge. */
function beyond(catalogue: Catalogue, { measure, value }: Outside): number {
  const { low, high } = limitsOf(catalogue, measure);
  const said = value.inUnit ?? { low: value.step?.index ?? 0, high: value.step?.index ?? 0 };
  return Math.max(
    low === null ? Number.NEGATIVE_INFINITY : low - said.low,
    high === null ? Number.NEGATIVE_INFINITY : said.high - high,
  );
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
