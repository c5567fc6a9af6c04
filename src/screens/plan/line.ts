import type { Catalogue } from '#shared/catalogue';

/** Plan units: 0 to 100 each way, as a station's place is given in the catalogue. */
export interface Point {
  readonly x: number;
  readonly y: number;
}

/** The walk as a line: points close together, with the way walked up to each. */
export interface Line {
  readonly points: readonly Point[];
  /** Length up to each point. */
  readonly way: readonly number[];
  readonly length: number;
  /** Way at which each station lies, in walking order. */
  readonly stops: readonly number[];
}

/** Points between two stations: enough that a bend looks round at 1,000 px. */
const STEPS = 20;
/** Two stations nearer than this (plan units) would leave no room for their checks. */
const NEAREST = 3;

/**
 * The line through the stations and back to the first: a centripetal
 * Catmull-Rom curve (Barry and Goldman's recursion), which neither loops nor
 * overshoots between unevenly spaced stations.
 */
export function lineThrough(places: readonly Point[]): Line {
  const at = spread(places);
  const n = at.length;
  if (n === 0) return { points: [], way: [], length: 0, stops: [] };
  if (n === 1) return around(pick(at, 0));
  const points: Point[] = [];
  const stopAt: number[] = [];
  for (let i = 0; i < n; i += 1) {
    stopAt.push(points.length);
    const four = [i - 1, i, i + 1, i + 2].map((k) => pick(at, (k + n) % n));
    for (let s = 0; s < STEPS; s += 1) points.push(between(four, s / STEPS));
  }
  points.push(pick(at, 0));
  return measured(points, stopAt);
}

/** A single station: a small ring round it. */
function around(middle: Point): Line {
  const points = Array.from({ length: STEPS * 2 + 1 }, (_, i) => {
    const turn = (i / (STEPS * 2)) * 2 * Math.PI;
    return { x: middle.x + 8 * Math.sin(turn), y: middle.y - 8 * Math.cos(turn) };
  });
  return measured(points, [0]);
}

function measured(points: readonly Point[], stopAt: readonly number[]): Line {
  const way = [0];
  for (let i = 1; i < points.length; i += 1) {
    way.push((way[i - 1] ?? 0) + gap(pick(points, i - 1), pick(points, i)));
  }
  return { points, way, length: way[way.length - 1] ?? 0, stops: stopAt.map((i) => way[i] ?? 0) };
}

/** Stations at one place are moved apart, each to the right of the one before. */
function spread(places: readonly Point[]): readonly Point[] {
  const out: Point[] = [];
  for (const place of places) {
    let p = place;
    for (let i = 0; i < 40 && out.some((o) => gap(o, p) < NEAREST); i += 1) {
      p = { x: p.x + NEAREST * Math.cos(i), y: p.y + NEAREST * Math.sin(i) };
    }
    out.push(p);
  }
  return out;
}

function between(four: readonly Point[], part: number): Point {
  const [a, b, c, d] = [pick(four, 0), pick(four, 1), pick(four, 2), pick(four, 3)];
  const t0 = 0;
  const t1 = t0 + knot(a, b);
  const t2 = t1 + knot(b, c);
  const t3 = t2 + knot(c, d);
  const t = t1 + (t2 - t1) * part;
  const a1 = mix(a, b, t0, t1, t);
  const a2 = mix(b, c, t1, t2, t);
  const a3 = mix(c, d, t2, t3, t);
  return mix(mix(a1, a2, t0, t2, t), mix(a2, a3, t1, t3, t), t1, t2, t);
}

/** Centripetal: the square root of the distance; never nothing, so that no division fails. */
function knot(a: Point, b: Point): number {
  return Math.max(1e-6, Math.sqrt(gap(a, b)));
}

function mix(a: Point, b: Point, ta: number, tb: number, t: number): Point {
  const part = (t - ta) / (tb - ta);
  return { x: a.x + (b.x - a.x) * part, y: a.y + (b.y - a.y) * part };
}

function gap(a: Point, b: Point): number {
  return Math.hypot(a.x - b.x, a.y - b.y);
}

function pick(points: readonly Point[], i: number): Point {
  return points[i] ?? { x: 50, y: 50 };
}

/** The point at a way along the line, which goes round. */
export function pointAt(line: Line, way: number): Point {
  if (line.length === 0) return pick(line.points, 0);
  const w = ((way % line.length) + line.length) % line.length;
  let low = 0;
  let high = line.way.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((line.way[middle] ?? 0) <= w) low = middle;
    else high = middle;
  }
  const from = line.way[low] ?? 0;
  const to = line.way[high] ?? from;
  const part = to === from ? 0 : (w - from) / (to - from);
  const a = pick(line.points, low);
  const b = pick(line.points, high);
  return { x: a.x + (b.x - a.x) * part, y: a.y + (b.y - a.y) * part };
}

/** Direction of the walk at a way: a vector of length 1. */
export function headingAt(line: Line, way: number): Point {
  const a = pointAt(line, way - 0.4);
  const b = pointAt(line, way + 0.4);
  const d = gap(a, b) || 1;
  return { x: (b.x - a.x) / d, y: (b.y - a.y) / d };
}

/** SVG path data for the stretch from one way to another (from < to; may pass the end). */
export function stretch(line: Line, from: number, to: number): string {
  if (line.length === 0) return '';
  const out = [pointAt(line, from)];
  for (let turn = 0; turn < 2; turn += 1) {
    line.way.forEach((w, i) => {
      const at = w + turn * line.length;
      if (at > from && at < to) out.push(pick(line.points, i));
    });
  }
  out.push(pointAt(line, to));
  return out.map((p, i) => `${i === 0 ? 'M' : 'L'}${round(p.x)} ${round(p.y)}`).join('');
}

function round(n: number): number {
  return Math.round(n * 100) / 100;
}

/** One piece of the line for each check: its own stretch. */
export interface Piece {
  readonly check: string;
  readonly from: number;
  readonly to: number;
}

/**
 * Gives every check its piece of the line. A station owns the line from half
 * way back to the station before to half way on to the next; its checks share
 * that evenly, with a little air between them.
 */
export function pieces(
  line: Line,
  stations: readonly { readonly checks: readonly string[] }[],
): readonly Piece[] {
  const n = stations.length;
  const out: Piece[] = [];
  stations.forEach((station, i) => {
    const here = line.stops[i] ?? 0;
    const next = i + 1 < n ? (line.stops[i + 1] ?? here) : line.length;
    const before = i > 0 ? (line.stops[i - 1] ?? here) : (line.stops[n - 1] ?? 0) - line.length;
    const from = n === 1 ? 0 : (before + here) / 2;
    const to = n === 1 ? line.length : (here + next) / 2;
    const each = (to - from) / Math.max(1, station.checks.length);
    const air = Math.min(0.5, each * 0.22);
    station.checks.forEach((check, k) => {
      out.push({ check, from: from + k * each + air / 2, to: from + (k + 1) * each - air / 2 });
    });
  });
  // Ways before the first station count from the end of the line, so that from < to always.
  return out.map((p) =>
    p.from < 0 ? { ...p, from: p.from + line.length, to: p.to + line.length } : p,
  );
}

/** Neighbouring pieces that look alike, as one stretch. */
export interface Run {
  readonly look: string;
  readonly from: number;
  readonly to: number;
  readonly checks: readonly string[];
}

/**
 * Joins pieces that look alike, so that what is spoken for is one line and
 * only what is not interrupts it.
 */
export function runs(parts: readonly Piece[], look: (check: string) => string): readonly Run[] {
  const out: { look: string; from: number; to: number; checks: string[] }[] = [];
  for (const p of parts) {
    const last = out.at(-1);
    const now = look(p.check);
    if (last !== undefined && last.look === now && p.from >= last.to && p.from - last.to < 1) {
      last.to = p.to;
      last.checks.push(p.check);
    } else {
      out.push({ look: now, from: p.from, to: p.to, checks: [p.check] });
    }
  }
  return out;
}

const kept = new WeakMap<Catalogue, Line>();

/** The line of a catalogue; the same object each time. */
export function lineOf(catalogue: Catalogue): Line {
  const before = kept.get(catalogue);
  if (before !== undefined) return before;
  const line = lineThrough(catalogue.stations.map((s) => s.place));
  kept.set(catalogue, line);
  return line;
}

/** Between two marks along the line, in plan units: a mark is 4.6 wide, and inside a bend they come nearer. */
const MARKS_APART = 6;

/**
 * Moves places along the line away from each other until no two marks lie on one
 * another, as little as can be: those that crowd together are centred on where
 * they would stand, and those with room stay. In order, and on the line.
 */
export function apart(ways: readonly number[], length: number): readonly number[] {
  const gap = Math.min(MARKS_APART, length / Math.max(1, ways.length));
  // Less their distance, places that are far enough apart only grow: groups that do not are averaged.
  const groups: { sum: number; count: number }[] = [];
  ways.forEach((way, i) => {
    let group = { sum: way - i * gap, count: 1 };
    for (let last = groups.at(-1); last !== undefined; last = groups.at(-1)) {
      if (last.sum / last.count <= group.sum / group.count) break;
      group = { sum: last.sum + group.sum, count: last.count + group.count };
      groups.pop();
    }
    groups.push(group);
  });
  const most = length - (ways.length - 1) * gap;
  return groups
    .flatMap(({ sum, count }) => Array.from({ length: count }, () => sum / count))
    .map((place, i) => Math.max(0, Math.min(most, place)) + i * gap);
}
