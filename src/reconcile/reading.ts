import type { Act, Catalogue } from '#shared/catalogue';
import { inside } from '#shared/abnormal';
import { placedValues, rowIn, type PlacedValue } from '#shared/rows';
import type { Observation } from '#shared/statement';
import { generalAspects, WHOLE, type Spot } from './atlas.ts';
import type { Entry } from './ledger.ts';

/** What one statement says about one check. */
export interface Reading {
  readonly entry: Entry;
  readonly how: 'named' | 'blanket';
  /** Places that it is given to; empty when none could be told. */
  readonly at: readonly string[];
  /** "One more", whichever is next: the tally gives it its place. */
  readonly oneMore: boolean;
  /** Aspects that it speaks for, with or without a fault. */
  readonly aspects: readonly string[];
  /** Aspects that it calls good by a general verdict. */
  readonly good: readonly string[];
  /** Condition ids that it says are absent (R3) and present. */
  readonly absent: readonly string[];
  readonly present: readonly string[];
  /** Aspects at which it asserts something abnormal. */
  readonly bad: readonly string[];
  readonly values: readonly Measured[];
  /** Values that cannot be used as said (R8), with the measure they are for, where known. */
  readonly untold: readonly (Pick<PlacedValue, 'at' | 'value'> & { measure: string | null })[];
  /** What of the check it speaks for: a bit for each aspect, then one for each measure. */
  readonly bits: number;
  /** The same at each place, where a row of values says another thing of each; left out: alike at all. */
  readonly bitsAt?: ReadonlyMap<string, number>;
  /** Places of what is out of limits in a row, none where that cannot be told; left out: all of `at`. */
  readonly faultAt?: readonly string[];
  readonly acts: readonly Act[];
  /** "checked": the act was made, what was found is not said. */
  readonly actOnly: boolean;
  readonly abnormal: boolean;
}

/** A value that can be held against its limits; see PlacedValue for its place. */
export interface Measured extends Pick<PlacedValue, 'at' | 'value'> {
  readonly measure: string;
  readonly inside: boolean;
}

/** The bit of an aspect or a measure; none for one that is not there. A check has at most 12 and 8. */
export function bit(index: number): number {
  return index < 0 ? 0 : 1 << index;
}

function bitsOf(
  spot: Spot,
  aspects: readonly string[],
  values: readonly { measure: string }[],
): number {
  let bits = 0;
  for (const aspect of aspects) bits |= bit(spot.aspects.indexOf(aspect));
  for (const { measure } of values) {
    const index = spot.check.measures.findIndex((m) => m.id === measure);
    if (index >= 0) bits |= bit(spot.aspects.length + index);
  }
  return bits;
}

/** Places that a statement means at a check; see Which. */
function instancesSaid(said: Observation, spot: Spot): readonly string[] | null {
  if (said.about.kind !== 'check' || spot.check.repeat === undefined) return spot.instances;
  const { how, instances } = said.about.which;
  const known = instances.filter((i) => spot.instances.includes(i));
  switch (how) {
    case 'all':
      return spot.instances;
    case 'plural':
      // Whichever places the reading lists: the plural alone does not say that all were meant.
      return spot.check.repeat.plural ? spot.instances : [];
    case 'named':
      return known;
    case 'one':
      return known.length > 0 ? known : spot.instances.length === 1 ? spot.instances : null;
  }
}

function unique(ids: readonly string[]): readonly string[] {
  return ids.length < 2 ? ids : [...new Set(ids)];
}

/** Aspects of a check that a condition speaks about: as read, otherwise by the author's lists. */
function aspectsOfCondition(
  spot: Spot,
  condition: string,
  read: readonly string[],
): readonly string[] {
  if (spot.aspects[0] === WHOLE) return [WHOLE];
  const known = read.filter((a) => spot.aspects.includes(a));
  if (known.length > 0) return known;
  return spot.check.aspects.filter((a) => a.conditions.includes(condition)).map((a) => a.id);
}

/** Aspects that a general verdict speaks for at this check. */
function aspectsOfVerdict(spot: Spot, read: readonly string[]): readonly string[] {
  if (spot.aspects[0] === WHOLE) return [WHOLE];
  const known = read.filter((a) => spot.aspects.includes(a));
  return known.length > 0 || read.length > 0 ? known : generalAspects(spot);
}

/** Readings that were made; a statement in the ledger of a check always says the same about it. */
const made = new WeakMap<Entry, Reading>();

/** What an observation says when it is taken as being about this check by name. */
export function readNamed(
  catalogue: Catalogue,
  spot: Spot,
  entry: Entry,
  said: Observation,
): Reading {
  const known = made.get(entry);
  if (known !== undefined) return known;
  const reading = namedReading(catalogue, spot, entry, said);
  made.set(entry, reading);
  return reading;
}

function namedReading(catalogue: Catalogue, spot: Spot, entry: Entry, said: Observation): Reading {
  const { verdict } = said;
  const judged = verdict === null || verdict.actOnly ? [] : aspectsOfVerdict(spot, verdict.aspects);
  const compared = said.compared === null ? [] : aspectsOfVerdict(spot, []);
  const present = said.conditions.filter((c) => c.present);
  const faulty = present.flatMap((c) => aspectsOfCondition(spot, c.condition, c.aspects));
  const clear = said.conditions
    .filter((c) => !c.present)
    .flatMap((c) => aspectsOfCondition(spot, c.condition, c.aspects));
  const values: Measured[] = [];
  const untold: Reading['untold'][number][] = [];
  for (const { measure, ...placed } of placedValues(spot.check, said)) {
    const where = measure === null ? 'untold' : inside(catalogue, measure, placed.value);
    if (measure !== null && where !== 'untold') {
      values.push({ ...placed, measure: measure.id, inside: where === 'inside' });
    } else if (spot.check.measures.length > 0) {
      untold.push({ ...placed, measure: measure?.id ?? null });
    }
  }
  // A level that is given in figures speaks for an aspect of the same name.
  const aspectsOf = (v: { measure: string }) =>
    spot.aspects[0] === WHOLE ? [WHOLE] : spot.aspects.includes(v.measure) ? [v.measure] : [];
  const measured = values.flatMap(aspectsOf);
  const outside = values.filter((v) => !v.inside).flatMap(aspectsOf);
  const gone = said.compared === 'gone';
  const aspects = unique([...judged, ...compared, ...faulty, ...clear, ...measured]);
  const told =
    entry.placed === undefined
      ? instancesSaid(said, spot)
      : entry.placed.instances.filter((i) => spot.instances.includes(i));
  const row = rowOf(spot, said, values, aspectsOf, [...judged, ...compared, ...faulty, ...clear]);
  const at = row === null ? told : [...new Set([...(told ?? []), ...row.at])];
  const onlyValues = faulty.length === 0 && present.length === 0 && verdict?.good !== false;
  return {
    entry,
    how: 'named',
    at: at ?? [],
    oneMore: at === null,
    aspects,
    bits: row?.bits ?? bitsOf(spot, aspects, values),
    ...(row === null ? {} : { bitsAt: row.bitsAt }),
    ...(row === null || !onlyValues || compared.length > 0 ? {} : { faultAt: row.faultAt }),
    good: unique([...(verdict?.good === true ? judged : []), ...(gone ? compared : [])]),
    absent: said.conditions.filter((c) => !c.present).map((c) => c.condition),
    present: present.map((c) => c.condition),
    bad: unique([
      ...(verdict?.good === false ? aspectsOfVerdict(spot, verdict.aspects) : []),
      ...(gone ? [] : compared),
      ...faulty,
      ...outside,
    ]),
    values,
    untold,
    acts: said.acts,
    actOnly: verdict?.actOnly === true,
    abnormal: entry.finding,
  };
}

/**
 * What a row of values says at each place: its own value, and what else was said of
 * all. Where nobody can tell which value is whose, a row that has one for every
 * place speaks for each of them, and a shorter one for none.
 */
function rowOf(
  spot: Spot,
  said: Observation,
  values: readonly Measured[],
  aspectsOf: (v: { measure: string }) => readonly string[],
  others: readonly string[],
): {
  at: readonly string[];
  bits: number;
  bitsAt: ReadonlyMap<string, number>;
  faultAt: readonly string[];
} | null {
  const row = rowIn(spot.check, said);
  if (row === null) return null;
  const bitsFor = (some: readonly Measured[]) => bitsOf(spot, some.flatMap(aspectsOf), some);
  const whole = values.filter(
    (v) => v.at === undefined || (v.at === null && row.values === row.places),
  );
  const bits = bitsOf(spot, others, []) | bitsFor(whole);
  const own = (place: string) => values.filter((v) => v.at?.includes(place) === true);
  const at = spot.instances.filter((i) => own(i).length > 0);
  const outside = values.filter((v) => !v.inside);
  return {
    at: whole.some((v) => v.at === null) ? spot.instances : at,
    bits,
    bitsAt: new Map(at.map((i) => [i, bits | bitsFor(own(i))])),
    faultAt: outside.some((v) => v.at === undefined || v.at === null)
      ? []
      : [...new Set(outside.flatMap((v) => v.at ?? []))],
  };
}

/** What a blanket says about one check of its station; null when it says nothing about it (R7). */
export function readBlanket(spot: Spot, entry: Entry, said: Observation): Reading | null {
  if (said.about.kind !== 'station' || said.about.except.includes(spot.check.id)) return null;
  const whole = said.verdict?.good === true && !said.verdict.actOnly;
  const clear = said.conditions
    .filter((c) => !c.present)
    .flatMap((c) => aspectsOfCondition(spot, c.condition, c.aspects));
  const aspects = whole ? spot.aspects : spot.aspects[0] === WHOLE ? [] : unique(clear);
  if (aspects.length === 0) return null;
  return {
    entry,
    how: 'blanket',
    at: spot.instances,
    oneMore: false,
    aspects,
    bits: bitsOf(spot, aspects, []),
    good: whole ? spot.aspects : [],
    absent: [],
    present: [],
    bad: [],
    values: [],
    untold: [],
    acts: [],
    actOnly: false,
    abnormal: false,
  };
}
