import type { Inputs } from '../scores/around.ts';

/** A whole name. */
export const WHOLE = 0.97;

/** Words from one token up to another. */
export interface Range {
  readonly from: number;
  readonly to: number;
}

/** The one check whose whole name is said there, with no other whole name beside it; else the one station. */
export function namedAlone(inputs: Inputs, { from, to }: Range): number | null {
  const marks = inputs.candidates.map((c) =>
    c.marks.filter((m) => m.lag === 0 && m.token >= from && m.token < to),
  );
  const share = (i: number): number => Math.max(0, ...(marks[i] ?? []).map((m) => m.name));
  const whole = inputs.candidates.flatMap((c, i) =>
    c.member !== null && share(i) >= WHOLE ? [i] : [],
  );
  const checks = whole.filter((i) => inputs.candidates[i]?.member?.check !== null);
  const own = checks.length > 0 ? checks : whole;
  const best = Math.max(0, ...own.map(share));
  const near = own.filter((i) => share(i) > best - 1e-3);
  // "Seat belts" says more than the "belts" of the drive in it.
  const words = (i: number): number => (marks[i] ?? []).filter((m) => m.name > best - 1e-3).length;
  const most = Math.max(0, ...near.map(words));
  const top = near.filter((i) => words(i) === most);
  return top.length === 1 ? (top[0] ?? null) : null;
}
