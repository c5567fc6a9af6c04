import type { Coverage, Finding, Standing } from '#shared/coverage';
import type { Truth } from '#seeds';

/** What of a sheet differs from the truth, one sentence each; empty when all of it is as marked. */
export function differences(truth: Truth, coverage: Coverage): string[] {
  return [
    ...standings(truth, coverage),
    ...parts(truth, coverage),
    ...findings(truth, coverage),
    ...rest(truth, coverage),
  ];
}

function standings(truth: Truth, coverage: Coverage): string[] {
  const marked = new Map<string, Standing>([
    ...[...truth.spoken, ...truth.unsure].map((id) => [id, 'spoken'] as const),
    ...truth.part.map((p) => [p.check, 'part'] as const),
    ...truth.question.map((id) => [id, 'question'] as const),
    ...truth.skipped.map((id) => [id, 'skipped'] as const),
    ...truth.setAside.map((id) => [id, 'set-aside'] as const),
  ]);
  return coverage.checks.flatMap((check) => {
    const want = marked.get(check.check) ?? (check.required.today ? truth.rest : null);
    if (want === null || want === check.standing) return [];
    // Asked about at once, or with what is left (R5).
    const asks =
      check.standing === 'question' ||
      (check.standing === 'part' && check.reasons[0]?.rule === 'R5');
    if (truth.unsure.includes(check.check) && asks) return [];
    const why = check.reasons.map((r) => `${r.rule} ${r.text} [${r.words ?? ''}]`).join(' | ');
    return [`${check.check}: ${check.standing}, marked ${want}. ${why}`];
  });
}

function parts(truth: Truth, coverage: Coverage): string[] {
  return truth.part.flatMap((part) => {
    const check = coverage.checks.find((c) => c.check === part.check);
    if (check?.standing !== 'part') return [];
    const same = (what: string, got: readonly string[], want: readonly string[]): string[] => {
      const [a, b] = [[...new Set(got)].sort().join(' '), [...want].sort().join(' ')];
      return a === b ? [] : [`${part.check}: ${what} missing are "${a}", marked "${b}".`];
    };
    return [
      ...same(
        'aspects',
        check.missing.aspects.map((a) => a.aspect),
        part.aspects,
      ),
      ...same('places', check.missing.instances, part.instances),
      ...same(
        'measures',
        check.missing.measures.map((m) => m.measure),
        part.measures,
      ),
      ...same('acts', check.missing.acts, part.acts),
    ];
  });
}

function findings(truth: Truth, coverage: Coverage): string[] {
  const open = [...coverage.findings];
  const lost = truth.findings.flatMap((want) => {
    const at = open.findIndex((got) => fits(want, got));
    if (at >= 0) {
      open.splice(at, 1);
      return [];
    }
    return [`A finding is lost: ${JSON.stringify(want)}.`];
  });
  const more = open.map(
    (f) =>
      `A finding that is not marked: ${f.check ?? f.part ?? '?'} ${f.instances.join(' ')} ` +
      `${f.conditions.map((c) => `${c.condition}/${c.sign ?? '-'}`).join(' ')}${f.value?.measure ?? ''} ` +
      `${f.severity ?? 'no severity'} ${f.settled} [${f.words}]`,
  );
  return [...lost, ...more];
}

function fits(want: Truth['findings'][number], got: Finding): boolean {
  return (
    got.check === want.check &&
    got.severity === want.severity &&
    got.settled === want.settled &&
    want.instances.every((i) => got.instances.includes(i)) &&
    (want.sign === undefined || got.conditions.some((c) => c.sign === want.sign)) &&
    (want.condition === undefined || got.conditions.some((c) => c.condition === want.condition)) &&
    (want.measure === undefined || got.value?.measure === want.measure)
  );
}

function rest(truth: Truth, coverage: Coverage): string[] {
  const said: string[] = [];
  const circumstances = [...coverage.circumstances].sort().join(' ');
  if (circumstances !== [...truth.circumstances].sort().join(' ')) {
    said.push(`The circumstances are "${circumstances}".`);
  }
  const demanded = coverage.checks
    .filter((c) => c.required.by === 'follow-up')
    .map((c) => c.check)
    .sort()
    .join(' ');
  if (demanded !== [...truth.followUps].sort().join(' ')) {
    said.push(`The follow-ups are "${demanded}".`);
  }
  const kinds = new Set(coverage.remarks.map((r) => r.kind));
  for (const kind of truth.remarks) {
    if (!kinds.has(kind)) said.push(`No remark "${kind}".`);
  }
  const open = coverage.checks.filter(
    (c) => c.required.today && c.standing !== 'spoken' && c.standing !== 'set-aside',
  );
  if ((open.length === 0 ? 0 : 1) !== truth.exit) said.push(`${open.length} checks are open.`);
  return said;
}
