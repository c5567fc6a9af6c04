import type { Coverage } from '#shared/coverage';

/** Agreement of two markings beyond what chance would give. */
export interface Kappa {
  /** How many were marked by both. */
  readonly n: number;
  /** Share on which they agree, 0 to 1. */
  readonly observed: number;
  /** Share on which chance alone would agree. */
  readonly expected: number;
  /** 1 is full agreement, 0 is chance; null when chance alone would agree on everything. */
  readonly kappa: number | null;
  /** Large-sample standard error; null with kappa. */
  readonly error: number | null;
  /** 95 % interval, cut at -1 and 1; null with kappa. */
  readonly interval: readonly [number, number] | null;
}

/**
 * Fewest marks for a kappa. With fewer its interval covers nearly everything from
 * chance to full agreement. Too low: a figure is believed that says nothing. Too
 * high: an instructor marks on and is told how many are missing. Common practice, no source.
 */
export const FEWEST_MARKS = 10;

/** 97.5 % point of the normal distribution. */
const Z95 = 1.959963984540054;

/**
 * Cohen's kappa of a square table of counts: rows are the first marking,
 * columns the second.
 *
 * The standard error is that of Fleiss, Cohen and Everitt (1969), Psychological
 * Bulletin 72, 323-327, from memory:
 * var = [ Σ pii ((1-pe) - (pi. + p.i)(1-po))² + (1-po)² Σ(i≠j) pij (pj. + p.i)² - (po pe - 2 pe + po)² ] / (n (1-pe)⁴).
 */
export function kappa(table: readonly (readonly number[])[]): Kappa {
  const n = table.flat().reduce((a, b) => a + b, 0);
  if (n === 0) return { n, observed: 0, expected: 0, kappa: null, error: null, interval: null };
  const p = table.map((row) => row.map((count) => count / n));
  const size = p.map((_, i) => i);
  const at = (i: number, j: number) => p[i]?.[j] ?? 0;
  const rows = size.map((i) => size.reduce((sum, j) => sum + at(i, j), 0));
  const columns = size.map((j) => size.reduce((sum, i) => sum + at(i, j), 0));
  const row = (i: number) => rows[i] ?? 0;
  const column = (j: number) => columns[j] ?? 0;
  const observed = size.reduce((sum, i) => sum + at(i, i), 0);
  const expected = size.reduce((sum, i) => sum + row(i) * column(i), 0);
  const left = 1 - expected;
  // All in one class by both: chance explains everything, and nothing can be said.
  if (left < 1e-12) return { n, observed, expected, kappa: null, error: null, interval: null };
  const k = (observed - expected) / left;
  let agree = 0;
  let differ = 0;
  for (const i of size) {
    for (const j of size) {
      if (i === j) agree += at(i, i) * (left - (row(i) + column(i)) * (1 - observed)) ** 2;
      else differ += at(i, j) * (column(i) + row(j)) ** 2;
    }
  }
  const rest = (observed * expected - 2 * expected + observed) ** 2;
  const variance = (agree + (1 - observed) ** 2 * differ - rest) / (n * left ** 4);
  const error = Math.sqrt(Math.max(0, variance));
  return {
    n,
    observed,
    expected,
    kappa: k,
    error,
    interval: [Math.max(-1, k - Z95 * error), Math.min(1, k + Z95 * error)],
  };
}

/** Agreement of the sheet with its reviewer, over the checks that the reviewer marked. */
export function kappaOf(coverage: Coverage): Kappa {
  const pairs = coverage.checks.flatMap((c) =>
    c.reviewed === null ? [] : [[c.standing, c.reviewed] as const],
  );
  const classes = [...new Set(pairs.flat())].sort();
  const table = classes.map((a) =>
    classes.map((b) => pairs.filter(([x, y]) => x === a && y === b).length),
  );
  return kappa(table);
}
