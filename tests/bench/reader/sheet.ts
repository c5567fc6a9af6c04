import type { Coverage, Finding } from '#shared/coverage';
import type { Statement } from '#shared/statement';

/** Two sheets of one walk compared, counted. */
export interface SheetCounts {
  checks: number;
  agreed: number;
  /** Checks that are open and untouched on neither sheet. */
  touched: number;
  touchedAgreed: number;
  falseSpokenFor: number;
  falseFindings: number;
  lostFindings: number;
}

/** A sheet and the utterance that each of its statements came from. */
export interface Sheet {
  readonly coverage: Coverage;
  readonly lineOf: ReadonlyMap<string, number>;
}

export function sheetOf(coverage: Coverage, utterances: readonly (readonly Statement[])[]): Sheet {
  const lineOf = new Map(
    utterances.flatMap((statements, line) => statements.map((s) => [s.id, line] as const)),
  );
  return { coverage, lineOf };
}

/**
 * What a user sees against what the labels say: standings by check; "spoken
 * for" where it is not; findings that are none, and findings that are nowhere.
 *
 * A finding is the same when check and place meet; one without a check is the
 * same as any finding out of the same utterance (R4: it is kept, and will be
 * placed). Where the check stands in question nothing is lost, and where the
 * true sheet has it in question nothing is false: either way somebody asks.
 */
export function compare(truth: Sheet, read: Sheet): SheetCounts {
  const counts: SheetCounts = {
    checks: 0,
    agreed: 0,
    touched: 0,
    touchedAgreed: 0,
    falseSpokenFor: 0,
    falseFindings: 0,
    lostFindings: 0,
  };
  const standings = (s: Sheet) => new Map(s.coverage.checks.map((c) => [c.check, c.standing]));
  const due = standings(truth);
  const said = standings(read);
  for (const [check, standing] of due) {
    const own = said.get(check);
    const untouched = (s: string | undefined) => s === 'unspoken' || s === 'skipped';
    counts.checks += 1;
    if (own === standing) counts.agreed += 1;
    if (own === 'spoken' && standing !== 'spoken') counts.falseSpokenFor += 1;
    if (untouched(own) && untouched(standing)) continue;
    counts.touched += 1;
    if (own === standing) counts.touchedAgreed += 1;
  }
  const standing = (s: Sheet) => s.coverage.findings.filter((f) => f.settled !== 'taken-back');
  const dueFindings = standing(truth);
  const readFindings = standing(read);
  const meets = (a: Finding, b: Finding) =>
    a.check === null || b.check === null
      ? sharesLine(a, b)
      : a.check === b.check &&
        (a.instances.length === 0 ||
          b.instances.length === 0 ||
          a.instances.some((i) => b.instances.includes(i)));
  const sharesLine = (due: Finding, own: Finding) => {
    const lines = new Set(due.statements.map((id) => truth.lineOf.get(id)));
    return own.statements.some((id) => lines.has(read.lineOf.get(id)));
  };
  const asked = (standings: ReadonlyMap<string, string>, f: Finding) =>
    f.check !== null && standings.get(f.check) === 'question';
  for (const f of dueFindings) {
    if (!readFindings.some((own) => meets(f, own)) && !asked(said, f)) counts.lostFindings += 1;
  }
  for (const f of readFindings) {
    if (!dueFindings.some((d) => meets(d, f)) && !asked(due, f)) counts.falseFindings += 1;
  }
  return counts;
}
