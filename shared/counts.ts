import type { CheckCoverage, Coverage } from './coverage.ts';

/** What is counted of a walk. Every place that shows a number of it takes it from here. */
export interface Counts {
  /** Checks that today asks for. */
  readonly required: number;
  readonly spoken: number;
  readonly part: number;
  readonly question: number;
  /** Not said, by whichever name: unspoken, or skipped once the walk is finished. */
  readonly unsaid: number;
  readonly aside: number;
  /** Required and neither spoken for nor set aside: the gaps. */
  readonly open: number;
  /** Spoken for by touch, not by voice. */
  readonly touched: number;
}

/** Findings that count, and those taken back, which are shown and count for nothing (R6). */
export interface FindingCounts {
  readonly findings: number;
  readonly takenBack: number;
  /** Without a check or a severity: to be settled before the walk is signed, or after. */
  readonly unsettled: number;
}

/** Counts the checks that are required today. */
export function countOf(checks: readonly CheckCoverage[]): Counts {
  const today = checks.filter((c) => c.required.today);
  const by = (...standings: readonly CheckCoverage['standing'][]) =>
    today.filter((c) => standings.includes(c.standing)).length;
  const spoken = by('spoken');
  const aside = by('set-aside');
  return {
    required: today.length,
    spoken,
    part: by('part'),
    question: by('question'),
    unsaid: by('unspoken', 'skipped'),
    aside,
    open: today.length - spoken - aside,
    touched: today.filter((c) => c.standing === 'spoken' && c.touched === true).length,
  };
}

export function findingCounts({ findings }: Pick<Coverage, 'findings'>): FindingCounts {
  const standing = findings.filter((f) => f.settled !== 'taken-back');
  return {
    findings: standing.length,
    takenBack: findings.length - standing.length,
    unsettled: standing.filter((f) => f.check === null || f.severity === null).length,
  };
}
