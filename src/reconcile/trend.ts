import { TheilSenRegression } from 'ml-regression-theil-sen';
import type { Catalogue, Check, Measure } from '#shared/catalogue';
import { ONCE } from '#shared/catalogue';
import type { Event } from '#shared/event';
import { figures } from '#shared/figures';
import { placedValues } from '#shared/rows';
import type { Statement } from '#shared/statement';

/*
 * Measured values over time. A measured check at one of its places is a series
 * over date and, where every point has them, aircraft hours.
 */

/** One measured value. */
export interface TrendPoint {
  /** Milliseconds since 1970. */
  readonly at: number;
  /** Aircraft time in service, hours; null where it was not given. */
  readonly hours: number | null;
  readonly value: number;
  readonly walk: string | null;
}

export interface TrendLine {
  readonly slope: number;
  readonly intercept: number;
  /** 95 % interval of the slope. */
  readonly slopes: readonly [number, number];
}

export interface Trend {
  readonly id: string;
  readonly name: string;
  /** UCUM code; null for a gauge. */
  readonly unit: string | null;
  readonly limit: { readonly low: number | null; readonly high: number | null };
  readonly points: readonly TrendPoint[];
  readonly over: 'hours' | 'days';
  /** In x of `over`; null when the data do not support one. */
  readonly line: TrendLine | null;
  /** When the limit will be reached, in x, with its interval; null when nothing can be said. */
  readonly reaches: { readonly at: number; readonly from: number; readonly to: number } | null;
  readonly text: string;
}

/**
 * Fewest points for a line. With fewer the 95 % interval of the slope covers
 * nearly every pair and says nothing. Too low: a trend is claimed from chance,
 * and a part is trusted for too long. Too high: a warning comes a walk late.
 */
export const FEWEST_POINTS = 6;

/** 97.5 % point of the normal distribution. */
const Z95 = 1.959963984540054;

/** How far ahead a crossing may be told, as a multiple of the time observed: beyond it a line is a guess. */
export const FARTHEST_AHEAD = 3;

const DAY = 24 * 3600 * 1000;

/** Every measured check of an aircraft as a series, in walking order; series of one value are left out. */
export function trendsOf(events: readonly Event[], catalogue: Catalogue): readonly Trend[] {
  const series = seriesOf(events, catalogue);
  return catalogue.stations.flatMap((s) =>
    s.checks.flatMap((check) =>
      check.measures.flatMap((measure) =>
        placesOf(check).flatMap((place) => {
          const points = series.get(keyOf(check.id, place, measure.id)) ?? [];
          return points.length < 2 ? [] : [trendOf(check, place, measure, points)];
        }),
      ),
    ),
  );
}

function placesOf(check: Check): readonly string[] {
  return check.repeat?.instances ?? [ONCE];
}

function keyOf(check: string, place: string, measure: string): string {
  return JSON.stringify([check, place, measure]);
}

/** What a reviewer made of a reading, by its statement; null where nothing of it stands. The last review counts. */
function readingsReviewed(events: readonly Event[]): ReadonlyMap<string, Statement | null> {
  return new Map(
    events.flatMap(({ what }) =>
      what.kind === 'reviewed' && what.of.kind === 'reading'
        ? [[what.of.statement, what.of.instead] as const]
        : [],
    ),
  );
}

/** The last value said of each measure on each walk, oldest first. */
function seriesOf(
  events: readonly Event[],
  catalogue: Catalogue,
): ReadonlyMap<string, TrendPoint[]> {
  const checks = new Map(catalogue.stations.flatMap((s) => s.checks.map((c) => [c.id, c])));
  const hours = new Map<string, number | null>();
  const byWalk = new Map<string, Map<string, TrendPoint>>();
  const takenBack = new Set<string>();
  for (const { what } of events) {
    if (what.kind !== 'stated') continue;
    const said = what.statement;
    if (said.kind === 'retraction') takenBack.add(said.of);
    if (said.kind === 'observation' && said.amends !== null) takenBack.add(said.amends);
  }
  const reviewed = readingsReviewed(events);
  for (const event of events) {
    const { what, walk } = event;
    if (walk === null) continue;
    if (what.kind === 'walk-begun') hours.set(walk, what.hours);
    if (what.kind !== 'stated') continue;
    const said = reviewed.has(what.statement.id)
      ? (reviewed.get(what.statement.id) ?? null)
      : what.statement;
    if (said?.kind !== 'observation') continue;
    if (said.force !== 'result' || said.about.kind !== 'check' || takenBack.has(said.id)) continue;
    const { check, which } = said.about;
    const asked = checks.get(check);
    if (asked === undefined) continue;
    const places = which.instances.length === 0 ? [ONCE] : which.instances;
    for (const { value, at } of placedValues(asked, said)) {
      if (value.inUnit === null || value.measure === null || value.trouble !== null) continue;
      // Of a row each has its own place; one whose place nobody can tell is no point of any line.
      for (const place of at === undefined ? places : (at ?? [])) {
        const key = keyOf(check, place, value.measure);
        const points = byWalk.get(key) ?? new Map<string, TrendPoint>();
        byWalk.set(key, points);
        points.set(walk, {
          at: event.at,
          hours: hours.get(walk) ?? null,
          value: (value.inUnit.low + value.inUnit.high) / 2,
          walk,
        });
      }
    }
  }
  return new Map(
    [...byWalk].map(([key, points]) => [key, [...points.values()].sort((a, b) => a.at - b.at)]),
  );
}

function trendOf(
  check: Check,
  place: string,
  measure: Measure,
  points: readonly TrendPoint[],
): Trend {
  const where = place === ONCE ? '' : `${place} `;
  return seriesTrend({
    id: keyOf(check.id, place, measure.id),
    name: `${where}${check.name}, ${measure.name}`,
    unit: measure.unit ?? null,
    limit: { low: measure.low ?? null, high: measure.high ?? null },
    points,
  });
}

/** A series with its line, where the data support one, and with what there is to say of it. */
export function seriesTrend(
  series: Pick<Trend, 'id' | 'name' | 'unit' | 'limit' | 'points'>,
): Trend {
  const { points, limit } = series;
  const over = points.every((p) => p.hours !== null) ? 'hours' : 'days';
  const first = points[0]?.at ?? 0;
  const x = points.map((p) => (over === 'hours' ? (p.hours ?? 0) : (p.at - first) / DAY));
  const line = robustLine(
    x,
    points.map((p) => p.value),
  );
  const past = pastText(series) ?? linePastText(x, line, limit);
  // Where the limit is reached or passed, nothing is still to be reached.
  const reaches = line === null || past !== null ? null : crossing(x, line, limit);
  const rest = textOf(points.length, over, line, reaches, past !== null);
  return {
    ...series,
    over,
    line,
    reaches,
    text: past === null ? rest : `${past} ${rest}`,
  };
}

/** Says it when the last value is at its limit or past it; null when it is not. */
function pastText({
  points,
  limit,
  unit,
}: Pick<Trend, 'points' | 'limit' | 'unit'>): string | null {
  const last = points.at(-1)?.value;
  if (last === undefined) return null;
  const { low, high } = limit;
  if (high !== null && last >= high)
    return `${last > high ? 'Past its limit already' : 'At its limit'}: ${figures(last, unit)}, and at most ${figures(high, unit)} is allowed.`;
  if (low !== null && last <= low)
    return `${last < low ? 'Past its limit already' : 'At its limit'}: ${figures(last, unit)}, and at least ${figures(low, unit)} is needed.`;
  return null;
}

/** The last value is within, and the line through all of them is not: a lucky reading is no reason to wait. */
function linePastText(
  x: readonly number[],
  line: TrendLine | null,
  { low, high }: Trend['limit'],
): string | null {
  if (line === null || (line.slopes[0] <= 0 && line.slopes[1] >= 0)) return null;
  const level = line.slope * Math.max(...x) + line.intercept;
  const past = (high !== null && level >= high) || (low !== null && level <= low);
  return past
    ? 'By its trend it is past the limit already, though the last value is within.'
    : null;
}

/**
 * The Theil–Sen line with the 95 % interval of its slope after Sen (1968),
 * J. Am. Stat. Assoc. 63, 1379–1389, from memory: the ordered slopes of all
 * pairs at ranks (N ± z √(n(n−1)(2n+5)/18)) / 2. Null with too few points, or
 * when all lie at one x.
 */
export function robustLine(x: readonly number[], y: readonly number[]): TrendLine | null {
  const n = x.length;
  if (n < FEWEST_POINTS || new Set(x).size < 3) return null;
  const slopes = pairSlopes(x, y);
  const spread = Z95 * Math.sqrt((n * (n - 1) * (2 * n + 5)) / 18);
  const lowest = Math.max(0, Math.floor((slopes.length - spread) / 2) - 1);
  const highest = Math.min(slopes.length - 1, Math.ceil((slopes.length + spread) / 2));
  const { slope, intercept } = new TheilSenRegression([...x], [...y]);
  return { slope, intercept, slopes: [slopes[lowest] ?? slope, slopes[highest] ?? slope] };
}

function pairSlopes(x: readonly number[], y: readonly number[]): number[] {
  const slopes: number[] = [];
  for (let i = 0; i < x.length; i += 1) {
    for (let j = i + 1; j < x.length; j += 1) {
      const dx = (x[j] ?? 0) - (x[i] ?? 0);
      if (dx !== 0) slopes.push(((y[j] ?? 0) - (y[i] ?? 0)) / dx);
    }
  }
  return slopes.sort((a, b) => a - b);
}

/** Where the line meets the limit that it runs towards; null unless the whole slope interval runs there. */
function crossing(x: readonly number[], line: TrendLine, limit: Trend['limit']): Trend['reaches'] {
  const [least, most] = line.slopes;
  if (least <= 0 && most >= 0) return null;
  const bound = line.slope > 0 ? limit.high : limit.low;
  if (bound === null) return null;
  const now = Math.max(...x);
  const level = line.slope * now + line.intercept;
  const ahead = (slope: number) => now + (bound - level) / slope;
  const at = ahead(line.slope);
  const ends = [ahead(least), ahead(most)].sort((a, b) => a - b);
  const seen = now - Math.min(...x);
  if (at < now || at > now + FARTHEST_AHEAD * seen) return null;
  // The limit was not passed yet: no interval begins before today.
  return { at, from: Math.max(now, ends[0] ?? at), to: ends[1] ?? at };
}

function textOf(
  count: number,
  over: Trend['over'],
  line: TrendLine | null,
  reaches: Trend['reaches'],
  past: boolean,
): string {
  const unit = over === 'hours' ? 'aircraft hours' : 'days';
  if (line === null) return `${count} values are too few for a trend.`;
  if (line.slopes[0] <= 0 && line.slopes[1] >= 0) return 'No trend can be told from the scatter.';
  if (past) return 'It changes steadily.';
  if (reaches === null) return 'It changes steadily; no limit lies within sight.';
  return `It reaches the limit at about ${tenths(reaches.at)} ${unit}; between ${tenths(reaches.from)} and ${tenths(reaches.to)}.`;
}

function tenths(n: number): number {
  return Math.round(n * 10) / 10;
}
