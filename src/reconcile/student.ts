import type { Catalogue } from '#shared/catalogue';
import type { CheckCoverage, Coverage } from '#shared/coverage';
import { placeOf } from '#shared/names';

/** One check over the walks of a student, with how often it was what. */
export interface Habit {
  readonly check: string;
  /** Walks on which it was required. */
  readonly of: number;
  /** Of these: left open, explained, reported. */
  readonly open: number;
  readonly explained: number;
  readonly reported: number;
}

export interface Student {
  /** Checks left open more than once, the most often first. */
  readonly again: readonly Habit[];
  readonly habits: readonly Habit[];
  /** At most three, one sentence each. */
  readonly points: readonly string[];
}

/** More than these are no lesson any more; common practice, no source. */
const POINTS = 3;
/** Once is a slip. What is left open again is a habit, and worth an hour of somebody's time. */
const AGAIN = 2;

/** What a student leaves out again and again, over walks of one catalogue, oldest first. */
export function studentOf(walks: readonly Coverage[], catalogue: Catalogue): Student {
  const byCheck = new Map<string, CheckCoverage[]>();
  for (const { checks } of walks)
    for (const c of checks)
      if (c.required.today) byCheck.set(c.check, [...(byCheck.get(c.check) ?? []), c]);
  const habits = [...byCheck].map(([check, seen]): Habit => {
    const count = (is: (c: CheckCoverage) => boolean) => seen.filter(is).length;
    return {
      check,
      of: seen.length,
      open: count((c) => c.standing !== 'spoken' && c.standing !== 'set-aside'),
      explained: count((c) => (c.told?.explained ?? []).length > 0),
      reported: count((c) => (c.told?.reported ?? []).length > 0),
    };
  });
  const again = habits
    .filter((h) => h.open >= AGAIN)
    .sort((a, b) => b.open / b.of - a.open / a.of || b.open - a.open || toDo(b) - toDo(a));
  return { habits, again, points: again.slice(0, POINTS).map((h) => pointOf(h, catalogue)) };
}

/** Of equal habits what was taught and never done comes first. */
function toDo({ explained, reported }: Habit): number {
  return explained > 0 && reported === 0 ? 1 : 0;
}

function pointOf({ check, of, open, explained, reported }: Habit, catalogue: Catalogue): string {
  const name = placeOf(catalogue, check)?.check.name ?? check;
  const often = `left open on ${String(open)} of ${String(of)} walks`;
  return explained > 0 && reported === 0
    ? `Report ${name} yourself: explained on ${counted(explained)}, reported on none, ${often}.`
    : `Come to ${name}: ${often}.`;
}

function counted(walks: number): string {
  return walks === 1 ? 'one walk' : `${String(walks)} walks`;
}
