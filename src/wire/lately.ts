import type { LastHeard } from '#screens';
import type { Observation, Statement } from '#shared/statement';

/** An utterance with what became of it, and the statements that can be taken back. */
export interface Uttered {
  readonly last: LastHeard;
  readonly statements: readonly Statement[];
}

/** Utterances that stay within reach. More are not read at a glance. */
export const WITHIN_REACH = 5;

/** Kinds of statement that change the sheet, and so can be taken back. */
const CHANGING: ReadonlySet<Statement['kind']> = new Set([
  'observation',
  'two-candidates',
  'rating',
  'set-aside',
  'circumstance',
  'clearance',
]);

/** Of which a check was only named. */
const isBare = (s: Observation): boolean =>
  s.verdict === null && s.conditions.length === 0 && s.values.length === 0 && s.doubtful === null;

/** The last utterances once another was heard; those that it takes back say so. */
export function latelyOf(
  before: readonly Uttered[],
  last: LastHeard | null,
  statements: readonly Statement[],
): readonly Uttered[] {
  const gone = new Set(statements.flatMap((s) => (s.kind === 'retraction' ? [s.of] : [])));
  const marked = before.map((u) =>
    gone.size > 0 && u.statements.some((s) => gone.has(s.id))
      ? { ...u, last: { ...u.last, taken: true } }
      : u,
  );
  if (last === null) return marked;
  const own = statements.filter(
    (s) =>
      CHANGING.has(s.kind) && !(s.kind === 'observation' && (s.force !== 'result' || isBare(s))),
  );
  return [...marked, { last: { ...last, changes: own.length > 0 }, statements: own }].slice(
    -WITHIN_REACH,
  );
}
