import type { Observation, Statement } from '#shared/statement';

/** Why an utterance was read as it was, for a person: each statement, what it says, and the steps that led there. */
export function explainStatements(text: string, statements: readonly Statement[]): string {
  if (statements.length === 0) return `"${text.trim()}"\n  Nothing was said.`;
  return statements
    .map((s) => {
      const lines = [
        `"${s.span.words}"`,
        `  means: ${meaning(s)}`,
        ...s.why.map((w) => `  because ${w}`),
      ];
      const rivals =
        s.kind === 'observation' ? s.candidates : s.kind === 'two-candidates' ? s.candidates : [];
      for (const c of rivals.slice(0, 4))
        lines.push(`  candidate ${c.check} ${c.score.toFixed(2)}: ${c.how}`);
      return lines.join('\n');
    })
    .join('\n');
}

function meaning(s: Statement): string {
  switch (s.kind) {
    case 'observation':
      return told(s);
    case 'two-candidates':
      return `a question: ${s.candidates.map((c) => c.check).join(' or ')}?`;
    case 'command':
      return `an order: ${s.command}`;
    case 'rating':
      return `the latest finding is rated "${s.severity}"`;
    case 'retraction':
      return 'the last statement is taken back';
    case 'set-aside':
      return `${s.check} is set aside`;
    case 'circumstance':
      return `today: ${s.holds ? '' : 'not '}${s.circumstance}`;
    case 'arrival':
      return `the speaker is at ${s.station}`;
    case 'not-understood':
      return s.chatter ? 'small talk' : 'not understood, to be asked about';
  }
}

function told(o: Observation): string {
  const about =
    o.about.kind === 'check'
      ? o.about.check
      : o.about.kind === 'station'
        ? `everything at ${o.about.station}`
        : `something not placed ("${o.about.part}")`;
  const places =
    o.about.kind === 'check' &&
    o.about.which.instances.length > 0 &&
    o.about.which.instances[0] !== 'once'
      ? ` (${o.about.which.how}: ${o.about.which.instances.join(', ')})`
      : '';
  const parts: string[] = [];
  if (o.verdict !== null)
    parts.push(
      o.verdict.actOnly
        ? 'done, without saying what was found'
        : o.verdict.good
          ? 'good'
          : 'not good',
    );
  if (o.verdict !== null && o.verdict.aspects.length > 0)
    parts.push(`on ${o.verdict.aspects.join(' and ')}`);
  for (const c of o.conditions)
    parts.push(
      `${c.present ? '' : 'no '}${c.condition}${c.degree === null ? '' : ` (${c.degree})`}${c.extent === null ? '' : `, ${String(c.extent.count)}${c.extent.of === null ? '' : ` of ${String(c.extent.of)}`}`}${c.place === null ? '' : ` ${c.place}`}`,
    );
  for (const v of o.values)
    parts.push(
      v.step === null
        ? `${String(v.low)}${v.low === v.high ? '' : ` to ${String(v.high)}`} ${v.unit ?? 'without a unit'}`
        : v.step.name,
    );
  if (o.severity !== null) parts.push(`severity "${o.severity}"`);
  const result = o.force === 'result' ? 'result' : `${o.force}, which never counts (R2)`;
  const doubt = o.doubtful === null ? '' : `; to be asked about: ${o.doubtful} (R5)`;
  return `${about}${places}: ${parts.length > 0 ? parts.join(', ') : 'named only'}; ${result}${doubt}`;
}
