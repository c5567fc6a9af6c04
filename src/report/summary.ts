import type { CheckCoverage, Coverage } from '#shared/coverage';

/** How many of the checks required today stand how. */
export interface Summary {
  required: number;
  spoken: number;
  part: number;
  question: number;
  /** Unspoken, or skipped once the walk is finished. */
  skipped: number;
  setAside: number;
  findings: number;
}

export function summaryOf(coverage: Coverage): Summary {
  const today = coverage.checks.filter((c) => c.required.today);
  const count = (...standings: CheckCoverage['standing'][]) =>
    today.filter((c) => standings.includes(c.standing)).length;
  return {
    required: today.length,
    spoken: count('spoken'),
    part: count('part'),
    question: count('question'),
    skipped: count('unspoken', 'skipped'),
    setAside: count('set-aside'),
    findings: coverage.findings.filter((f) => f.settled !== 'taken-back').length,
  };
}

/** One sentence: what was and was not spoken for (R9: no word on whether to fly). */
export function summarySentence(s: Summary): string {
  const rest = [
    s.part > 0 ? `${s.part} part spoken` : '',
    s.question > 0 ? `${s.question} in question` : '',
    s.skipped > 0 ? `${s.skipped} skipped` : '',
    s.setAside > 0 ? `${s.setAside} set aside` : '',
  ].filter(Boolean);
  const findings = s.findings === 1 ? '1 finding' : `${s.findings} findings`;
  return `${s.spoken} of ${s.required} required checks spoken for${rest.length > 0 ? `; ${rest.join(', ')}` : ''}. ${findings}.`;
}
