import type { CheckCoverage, Coverage, Finding, Standing } from '#shared/coverage';

const CLASSES = ['explained', 'done', 'reported'] as const;
type ToldAs = (typeof CLASSES)[number];

interface Stood {
  readonly standing: Standing;
  readonly told: readonly ToldAs[];
}

/** What two readings of the same words differ in. */
export interface Differences {
  readonly checks: readonly { readonly check: string; readonly was: Stood; readonly now: Stood }[];
  readonly lost: readonly Finding[];
  readonly fresh: readonly Finding[];
}

/** Checks and findings that one coverage has otherwise than the other; both of one edition. */
export function differencesIn(before: Coverage, after: Coverage): Differences {
  const later = new Map(after.checks.map((c) => [c.check, c]));
  const had = new Set(before.findings.map(nameOf));
  const has = new Set(after.findings.map(nameOf));
  return {
    checks: before.checks.flatMap((c) => {
      const now = later.get(c.check);
      if (now === undefined || isAlike(c, now)) return [];
      return [{ check: c.check, was: stood(c), now: stood(now) }];
    }),
    lost: before.findings.filter((f) => !has.has(nameOf(f))),
    fresh: after.findings.filter((f) => !had.has(nameOf(f))),
  };
}

function stood(c: CheckCoverage): Stood {
  return { standing: c.standing, told: CLASSES.filter((of) => (c.told?.[of] ?? []).length > 0) };
}

function isAlike(a: CheckCoverage, b: CheckCoverage): boolean {
  return a.standing === b.standing && stood(a).told.join() === stood(b).told.join();
}

/** Two readings number their statements otherwise: a finding is the same by what it says. */
function nameOf(f: Finding): string {
  const what = f.conditions.map((c) => c.condition).sort();
  return JSON.stringify([f.check, [...f.instances].sort(), what, f.value?.said, f.settled]);
}
