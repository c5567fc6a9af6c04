import type { Observation, Statement } from '#shared/statement';

/** The other readings that a recogniser gives of the same sound, weighed against the best one. */

/** Other readings that are looked at. */
export const MOST_RIVALS = 4;

/** One reading of the sound and what it says. */
export interface Heard {
  readonly text: string;
  readonly statements: readonly Statement[];
}

const results = (h: Heard): Observation[] =>
  h.statements.filter(
    (s): s is Observation =>
      s.kind === 'observation' && s.force === 'result' && s.doubtful === null && counts(s),
  );
export const counts = (o: Observation): boolean =>
  o.verdict !== null || o.conditions.length > 0 || o.values.length > 0;

/** Whether anything in it would count, or orders something. */
export function isDecided(h: Heard): boolean {
  return results(h).length > 0 || h.statements.some((s) => s.kind === 'command');
}

const subject = (o: Observation): string =>
  o.about.kind === 'check' ? o.about.check : o.about.kind === 'station' ? o.about.station : '';
export const isBad = (o: Observation): boolean =>
  o.verdict?.good === false || o.conditions.some((c) => c.present);

/** Whether two readings cannot both be right: the same check good and not, or other checks altogether. */
function clash(a: Heard, b: Heard, others: boolean): boolean {
  const bad = new Map(results(a).map((o) => [subject(o), isBad(o)]));
  return results(b).some((o) => {
    const own = bad.get(subject(o));
    return own === undefined ? others && bad.size > 0 : own !== isBad(o);
  });
}

/**
 * What counts of the best reading and the others. The best stands unless another says the
 * opposite of the same check; where it says nothing another is taken, if they agree. A
 * result that rests on a reading that a rival gainsays is asked about (R5).
 */
export function settledReading(best: Heard, rivals: readonly Heard[]): readonly Statement[] {
  if (isDecided(best)) {
    const other = rivals.find((r) => isDecided(r) && clash(best, r, false));
    return other === undefined
      ? best.statements
      : doubted(best.statements, `heard as well: "${other.text}"`);
  }
  const told = rivals.filter(isDecided);
  const [first, ...more] = told;
  if (first === undefined) return best.statements;
  const order = commandOf(first);
  // An order counts from another reading only where no other one says anything else.
  if (order !== null && told.some((r) => commandOf(r) !== order)) return best.statements;
  const talk = rivals.find((r) => r !== first && isTalkOf(r, first));
  if (talk !== undefined)
    return doubted(first.statements, `heard as "${first.text}" or as "${talk.text}"`);
  const other = more.find((r) => clash(first, r, true));
  return other === undefined
    ? first.statements
    : doubted(first.statements, `heard as "${first.text}" or as "${other.text}"`);
}

const commandOf = (h: Heard): string | null =>
  h.statements.flatMap((s) => (s.kind === 'command' ? [s.command] : []))[0] ?? null;

/**
 * Whether a reading only talks of what another reports, or has the same words behind others
 * that make nothing of them: "make sure" and then the whole of it (R2).
 */
function isTalkOf(h: Heard, of: Heard): boolean {
  if (!isDecided(h) && h.text.length > of.text.length && h.text.endsWith(` ${of.text}`))
    return true;
  const own = new Set(results(of).map(subject));
  return h.statements.some(
    (s) => s.kind === 'observation' && s.force !== 'result' && own.has(subject(s)),
  );
}

function doubted(statements: readonly Statement[], why: string): Statement[] {
  return statements.map((s) =>
    // R4: a fault is never put in question by another reading.
    s.kind === 'observation' && s.force === 'result' && s.doubtful === null && !isBad(s)
      ? { ...s, doubtful: why }
      : s,
  );
}
