import type { Catalogue, Measure } from '#shared/catalogue';
import type { Event } from '#shared/event';
import { placeOf } from '#shared/names';
import type { Fault, Squawk } from '#shared/squawk';
import { sameness, squawksOf } from './squawks.ts';
import { seriesTrend, type Trend, type TrendPoint } from './trend.ts';

/*
 * Squawks over time. One that was measured or counted more than once is a
 * series of what was said of it; one that came back after it was mended, or
 * that was opened again as another squawk, is a series of its comings.
 */

/** Fewest points of a series: one is no series. */
const FEWEST = 2;

type Limit = Trend['limit'];
const NO_LIMIT: Limit = { low: null, high: null };

/** The series of an aircraft's squawks, in the order in which the faults were first told. */
export function recurringOf(events: readonly Event[], catalogue: Catalogue): readonly Trend[] {
  const walks = new Map<string, string | null>();
  const hours = new Map<string, number | null>();
  for (const { id, walk, what } of events) {
    walks.set(id, walk);
    if (walk !== null && what.kind === 'walk-begun') hours.set(walk, what.hours);
  }
  const pointOf = (event: string, at: number, value: number, known: number | null): TrendPoint => {
    const walk = walks.get(event) ?? null;
    return { at, hours: known ?? (walk === null ? null : (hours.get(walk) ?? null)), value, walk };
  };
  return groups(squawksOf(events)).flatMap((group) => {
    const [first] = group;
    if (first === undefined) return [];
    const named = { id: `squawk ${first.id}`, name: nameOf(first.fault) };
    const told = group.flatMap(tellings).sort((a, b) => a.at - b.at);
    const point = (t: Telling, value: number) => pointOf(t.event, t.at, value, t.hours);

    const measure = measureFor(first.fault, told, catalogue);
    const unit = told.find((t) => isMeasured(t.fault))?.fault.value?.unit ?? null;
    const values = told.flatMap((t) => {
      const value = t.fault.value;
      return value === null || value.inUnit === null || value.unit !== unit
        ? []
        : [point(t, value.inUnit)];
    });
    const counts = told.flatMap((t) => {
      const extent = t.fault.conditions.find((c) => c.extent !== null)?.extent ?? null;
      return extent === null ? [] : [point(t, extent.count)];
    });
    const comings = group
      .flatMap(comingsOf)
      .sort((a, b) => a.at - b.at)
      .map((c, i) => pointOf(c.event, c.at, i + 1, c.hours));
    return [
      ...(values.length < FEWEST
        ? []
        : [
            seriesTrend({
              id: `${named.id} value`,
              name: `Squawk: ${named.name}${measure === null ? '' : `, ${measure.name}`}`,
              unit,
              limit:
                measure === null
                  ? NO_LIMIT
                  : { low: measure.low ?? null, high: measure.high ?? null },
              points: values,
            }),
          ]),
      ...(counts.length < FEWEST
        ? []
        : [
            seriesTrend({
              id: `${named.id} extent`,
              name: `Squawk: ${named.name}, how many`,
              unit: null,
              limit: NO_LIMIT,
              points: counts,
            }),
          ]),
      ...(comings.length < FEWEST ? [] : [comingTrend(named, comings)]),
    ];
  });
}

/** How often it came: counted, and no line laid through it, since a count only goes up. */
function comingTrend({ id, name }: { id: string; name: string }, points: TrendPoint[]): Trend {
  return {
    id: `${id} times`,
    name: `Squawk: ${name}, times found`,
    unit: null,
    limit: NO_LIMIT,
    points,
    over: points.every((p) => p.hours !== null) ? 'hours' : 'days',
    line: null,
    reaches: null,
    text: `Found ${points.length} times: it came back.`,
  };
}

interface Telling {
  readonly event: string;
  readonly at: number;
  readonly hours: number | null;
  readonly fault: Fault;
}

/** Each time that the fault was told in words. */
function tellings(squawk: Squawk): Telling[] {
  return squawk.history.flatMap(({ event, at, step }) => {
    if (step.step === 'opened') return [{ event, at, hours: step.hours, fault: step.fault }];
    return step.step === 'amended' ? [{ event, at, hours: null, fault: step.fault }] : [];
  });
}

/** Each time that it was there and had not been before: opened, or seen again after it was mended. */
function comingsOf(squawk: Squawk): Omit<Telling, 'fault'>[] {
  let mended = true;
  return squawk.history.flatMap(({ event, at, step }) => {
    if (step.step === 'rectified' || step.step === 'closed') mended = true;
    if (step.step === 'rechecked' && step.outcome === 'gone') mended = true;
    const seen = step.step === 'opened' || (step.step === 'rechecked' && step.outcome !== 'gone');
    if (!seen || !mended) return [];
    mended = false;
    return [{ event, at, hours: step.step === 'opened' ? step.hours : null }];
  });
}

/** Squawks of one fault together. One that a person joined to another is the same telling twice, and counts once. */
function groups(squawks: readonly Squawk[]): Squawk[][] {
  const made: Squawk[][] = [];
  for (const squawk of squawks) {
    if (squawk.state === 'joined') continue;
    const group = made.find(([first]) => first !== undefined && sameness(first, squawk) !== null);
    if (group === undefined) made.push([squawk]);
    else group.push(squawk);
  }
  return made;
}

/** The catalogue's measure that the values are of; null when they tell of none. */
function measureFor(fault: Fault, told: readonly Telling[], catalogue: Catalogue): Measure | null {
  const check = fault.check === null ? null : (placeOf(catalogue, fault.check)?.check ?? null);
  const name = told.find((t) => t.fault.value !== null)?.fault.value?.measure ?? null;
  return check?.measures.find((m) => m.name === name) ?? null;
}

function isMeasured(fault: Fault): boolean {
  return fault.value !== null && fault.value.inUnit !== null;
}

function nameOf(fault: Fault): string {
  const part = fault.part ?? fault.words;
  const side =
    fault.side === null || part.toLowerCase().includes(fault.side) ? '' : `${fault.side} `;
  const what = fault.conditions.map((c) => c.condition.replaceAll('-', ' ')).join(', ');
  return `${side}${part.toLowerCase()}${what === '' ? '' : `: ${what}`}`;
}
