import type { Observation, Statement, Which } from '#shared/statement';

/** One line that says what a statement means, for golden files. */
export function summary(s: Statement): string {
  switch (s.kind) {
    case 'observation':
      return told(s);
    case 'two-candidates':
      return `which? ${s.candidates.map((c) => c.check).join(' | ')} · ${told(s.said)}`;
    case 'command':
      return `command ${s.command}`;
    case 'rating':
      return `rating ${s.severity}`;
    case 'retraction':
      return 'retraction';
    case 'clearance':
      return 'clearance';
    case 'set-aside':
      return `set aside ${s.check}${places(s.instances)}`;
    case 'circumstance':
      return `circumstance ${s.circumstance} ${s.holds ? 'yes' : 'no'}`;
    case 'arrival':
      return `arrival ${s.station}`;
    case 'not-understood':
      return s.chatter ? 'talk' : `not understood "${s.span.words}"`;
  }
}

function places(instances: readonly string[]): string {
  return instances.length === 1 && instances[0] === 'once' ? '' : `[${instances.join(', ')}]`;
}
function which(w: Which): string {
  if (w.how === 'all') return w.instances.length === 1 ? '' : '[all]';
  if (w.how === 'plural') return '[plural]';
  if (w.how === 'one') return `[one: ${w.instances.join(', ')}]`;
  return places(w.instances);
}

function told(o: Observation): string {
  const subject =
    o.about.kind === 'check'
      ? `${o.about.check}${which(o.about.which)}`
      : o.about.kind === 'station'
        ? `everything at ${o.about.station}${o.about.except.length > 0 ? ` except ${o.about.except.join(', ')}` : ''}`
        : `unplaced "${o.about.part}"`;
  const parts = [subject];
  if (o.force !== 'result') parts.push(o.force);
  if (o.verdict !== null) {
    const word = o.verdict.actOnly ? 'done' : o.verdict.good ? 'good' : 'bad';
    parts.push(o.verdict.aspects.length > 0 ? `${word} (${o.verdict.aspects.join(', ')})` : word);
  }
  for (const c of o.conditions) {
    const more = [
      ...(c.degree === null ? [] : [c.degree]),
      ...(c.extent === null
        ? []
        : [`${String(c.extent.count)}${c.extent.of === null ? '' : ` of ${String(c.extent.of)}`}`]),
      ...(c.sign === null ? [] : [`sign ${c.sign}`]),
      ...(c.place === null ? [] : [`place "${c.place}"`]),
    ];
    parts.push(
      `${c.present ? '' : 'no '}${c.condition}${c.aspects.length > 0 ? ` (${c.aspects.join(', ')})` : ''}${more.length > 0 ? ` {${more.join('; ')}}` : ''}`,
    );
  }
  for (const v of o.values) {
    const number =
      v.step !== null
        ? `step ${String(v.step.index)} "${v.step.name}"`
        : v.low === v.high
          ? String(v.low)
          : `${String(v.low)} to ${String(v.high)}`;
    parts.push(
      `${v.measure ?? 'value'} = ${v.approximate ? 'about ' : ''}${number}${v.unit === null ? '' : ` ${v.unit}`}${v.trouble === null ? '' : ` ${v.trouble}`}`,
    );
  }
  if (o.acts.length > 0) parts.push(`by ${o.acts.join(', ')}`);
  if (o.severity !== null) parts.push(o.severity);
  if (o.compared !== null) parts.push(`${o.compared} as before`);
  if (o.amends !== null) parts.push('amends');
  if (o.answers !== null) parts.push('answers');
  if (o.squawk) parts.push('squawk');
  if (o.doubtful !== null) parts.push(`doubtful: ${o.doubtful}`);
  return parts.join(' · ');
}
