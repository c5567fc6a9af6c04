import { instancesOf, type Check, type Measure } from './catalogue.ts';
import type { Observation, ValueSaid } from './statement.ts';

/*
 * Several values of one measure in one statement: "seventy six, seventy four,
 * seventy two" of the cylinders, each of another place. Given to every place of
 * the statement, the first of them would stand for all, and one that is out of
 * its limits would be lost.
 */

/** One value with the places that it was said of. */
export interface PlacedValue {
  readonly value: ValueSaid;
  /** The measure of the check that it belongs to; null when it names none. */
  readonly measure: Measure | null;
  /**
   * Of a value in a row: its own place; null where nobody can tell which of them it is.
   * Left out: every place that the statement is about.
   */
  readonly at?: readonly string[] | null;
}

/** The measure of a check that a value belongs to; the only one when the value names none. */
export function measureOf(check: Check, value: ValueSaid): Measure | null {
  if (value.measure !== null) return check.measures.find((m) => m.id === value.measure) ?? null;
  return check.measures.length === 1 ? (check.measures[0] ?? null) : null;
}

/**
 * The values of a statement, each with its place. Places that are numbered are
 * counted off in their order, as a thing that is said once more is. Of left and
 * right nobody can tell which was read first, so that neither is guessed (R5).
 */
export function placedValues(check: Check, said: Observation): readonly PlacedValue[] {
  const plain = said.values.map((value) => ({ value, measure: measureOf(check, value) }));
  const all = instancesOf(check);
  if (said.values.length < 2 || all.length < 2) return plain;
  const places = placesOf(check, said);
  const values = settled(check, said.values);
  const seen = new Map<string, number>();
  return values.map((value): PlacedValue => {
    const measure = measureOf(check, value);
    const row = values.filter((v) => isOf(check, v, measure)).length;
    if (measure === null || row < 2 || places.length < 2 || value.trouble === 'no-measure')
      return { value, measure };
    const index = seen.get(measure.id) ?? 0;
    seen.set(measure.id, index + 1);
    const counted = places.every((p) => /^\d+$/.test(p)) && row <= places.length;
    const place = places[index];
    return { value, measure, at: counted && place !== undefined ? [place] : null };
  });
}

/** Places that a row of values is about: those that were named, otherwise all. */
function placesOf(check: Check, { about }: Observation): readonly string[] {
  const all = instancesOf(check);
  if (about.kind !== 'check') return all;
  const named = all.filter((i) => about.which.instances.includes(i));
  const { how } = about.which;
  return (how === 'named' || how === 'one') && named.length > 0 ? named : all;
}

/** How many of its places a row has values for; null: no row was said. */
export function rowIn(check: Check, said: Observation): { values: number; places: number } | null {
  const placed = placedValues(check, said).filter((p) => p.at !== undefined);
  const [first] = placed;
  if (first === undefined) return null;
  const values = placed.filter((p) => p.measure?.id === first.measure?.id).length;
  return { values, places: placesOf(check, said).length };
}

function isOf(check: Check, value: ValueSaid, measure: Measure | null): boolean {
  return (
    measure !== null && value.trouble !== 'no-measure' && measureOf(check, value)?.id === measure.id
  );
}

/**
 * In a row the unit is said once, or again with every value; either way it is the
 * unit of them all. What is in the very unit of the one measure that has it is no
 * value in a wrong one.
 */
function settled(check: Check, values: readonly ValueSaid[]): readonly ValueSaid[] {
  return values.map((value) => {
    if (value.trouble !== 'no-unit' && value.trouble !== 'wrong-unit') return value;
    const { low, high } = value;
    if (low === null || high === null) return value;
    const unit = value.unit ?? unitBeside(check, value, values);
    const fitting = check.measures.filter((m) => m.unit !== undefined && m.unit === unit);
    const [measure] = fitting;
    if (measure === undefined || fitting.length > 1 || unit === null) return value;
    if (value.measure !== null && value.measure !== measure.id) return value;
    return {
      ...value,
      measure: measure.id,
      unit,
      inUnit: { low, high, unit },
      trouble: null,
      ...(value.unit === null ? { supplied: true } : {}),
    };
  });
}

/** The unit in which another value of the same measure was said; null where none was. */
function unitBeside(check: Check, value: ValueSaid, values: readonly ValueSaid[]): string | null {
  const measure = measureOf(check, value);
  const beside = values.find((v) => v.trouble === null && isOf(check, v, measure));
  return beside?.unit ?? null;
}
