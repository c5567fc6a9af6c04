import { convert } from './ucum.ts';
import { instancesOf, type Catalogue, type Check, type Measure } from '#shared/catalogue';
import { checksById, type Amount, type Claim, type Label } from '../../corpus/format.ts';

/**
 * What a row of labels speaks for, and what it finds: a tiny coverage, used on
 * the truth and on a reading alike. A unit is "check#instance#aspect".
 *
 * - Only force "result", not asked about, on one named check (R1, R2, R5).
 * - "checked" speaks for nothing (it is part spoken at best).
 * - A verdict speaks for its aspects, a condition for its own (R3); a check
 *   without aspects is spoken for by any of them, or by a value.
 * - A value speaks for its measure when it can be used (R8).
 * - A bare plural speaks for nothing; one without saying which is its own
 *   instance "one".
 * - A blanket speaks for the checks of its station that allow it and measure
 *   nothing, less the exceptions (R7).
 */
export function spokenUnits(labels: readonly Label[], catalogue: Catalogue): Set<string> {
  const checks = checksById(catalogue);
  const units = new Set<string>();
  for (const label of labels) {
    if (label.kind !== 'claim' || label.force !== 'result' || label.asked) continue;
    if (label.station !== null) blanketUnits(label, catalogue, units);
    const check = label.checks.length === 1 ? checks.get(label.checks[0] ?? '') : undefined;
    if (check === undefined) continue;
    for (const instance of label.instances) {
      if (instance === 'plural') continue;
      const add = (what: string) => units.add(`${check.id}#${instance}#${what}`);
      const verdict = label.good !== null && !label.actOnly;
      const values = label.amounts.filter((a) => !a.trouble);
      if (check.aspects.length === 0) {
        if (verdict || label.signs.length > 0 || values.length > 0) add('*');
      } else {
        if (verdict) label.aspects.forEach(add);
        label.signs.flatMap((s) => s.aspects).forEach(add);
      }
      for (const value of values) {
        const measure = measureOf(value, check);
        if (measure !== null) add(measure.id);
      }
    }
  }
  return units;
}

function blanketUnits(claim: Claim, catalogue: Catalogue, units: Set<string>): void {
  if (claim.good !== true || claim.actOnly) return;
  const station = catalogue.stations.find((s) => s.id === claim.station);
  for (const check of station?.checks ?? []) {
    if (!check.blanket || check.measures.length > 0 || claim.except.includes(check.id)) continue;
    for (const unit of unitsOf(check, instancesOf(check))) units.add(unit);
  }
}

/** Every unit of a check at these instances. */
export function unitsOf(check: Check, instances: readonly string[]): string[] {
  const what = [
    ...(check.aspects.length === 0 ? ['*'] : check.aspects.map((a) => a.id)),
    ...check.measures.map((m) => m.id),
  ];
  return instances.flatMap((i) => what.map((w) => `${check.id}#${i}#${w}`));
}

/** The units at stake: all of every check that the truth names, with whatever force. */
export function stakes(labels: readonly Label[], catalogue: Catalogue): number {
  const checks = checksById(catalogue);
  const units = new Set<string>();
  for (const label of labels) {
    if (label.kind !== 'claim') continue;
    if (label.station !== null) blanketUnits({ ...label, good: true }, catalogue, units);
    for (const id of label.checks) {
      const check = checks.get(id);
      if (check === undefined) continue;
      const own = label.instances.filter((i) => instancesOf(check).includes(i));
      for (const u of unitsOf(check, own.length > 0 ? own : ['one'])) units.add(u);
    }
  }
  return units.size;
}

/** Abnormal: a condition present, a bad verdict, or a usable value outside its limits (R8). */
export function isFinding(claim: Claim, catalogue: Catalogue): boolean {
  if (claim.force !== 'result') return false;
  if (claim.good === false || claim.signs.some((s) => s.present)) return true;
  const check = checksById(catalogue).get(claim.checks[0] ?? '');
  return claim.amounts.some((amount) => {
    const measure = amount.trouble || check === undefined ? null : measureOf(amount, check);
    return measure !== null && outOfLimits(amount, measure, catalogue);
  });
}

/** The measure of a check that an amount can belong to: a step to a gauge, a unit to its kind. */
function measureOf(amount: Amount, check: Check): Measure | null {
  return (
    check.measures.find((m) =>
      amount.step !== null
        ? m.gauge !== undefined
        : amount.low !== null && convert(amount.low, amount.unit, m.unit) !== null,
    ) ?? null
  );
}

/** Whether a usable amount is outside the limits of a measure. */
export function outOfLimits(amount: Amount, measure: Measure, catalogue: Catalogue): boolean {
  if (amount.step !== null) {
    const steps = catalogue.gauges.find((g) => g.id === measure.gauge)?.steps.map((s) => s.name);
    if (steps === undefined) return false;
    const least = measure.atLeast === undefined ? -1 : steps.indexOf(measure.atLeast);
    const most = measure.atMost === undefined ? steps.length : steps.indexOf(measure.atMost);
    return amount.step < least || amount.step > most;
  }
  const to = (value: number | null) =>
    value === null ? null : convert(value, amount.unit, measure.unit);
  const [low, high] = [to(amount.low), to(amount.high)];
  if (low === null || high === null) return false;
  return (
    (measure.low !== undefined && low < measure.low - 1e-9) ||
    (measure.high !== undefined && high > measure.high + 1e-9)
  );
}
