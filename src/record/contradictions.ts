import { ONCE, type Catalogue } from '#shared/catalogue';
import { isFinding } from '#shared/abnormal';
import type { Question } from '#shared/question';
import type { Observation, Statement } from '#shared/statement';
import { checkAbout, type Book } from './book.ts';
import { settle } from './questions.ts';

/**
 * R6: what was found is now called good. The worse stands, and the speaker is
 * asked which it is; the question is about the finding, so that the answer
 * amends it.
 */
export function contradicted(
  statement: Statement,
  earlier: readonly Statement[],
  book: Book,
  catalogue: Catalogue,
): readonly Question[] {
  if (statement.kind !== 'observation' || statement.about.kind !== 'check') return [];
  const check = statement.about.check;
  if (statement.force !== 'result' || statement.doubtful !== null || statement.amends !== null) {
    return [];
  }
  const fault = earlier
    .filter((s): s is Observation => s.kind === 'observation')
    .filter((s) => s.about.kind === 'check' && s.about.check === check)
    .filter((s) => !book.amended.has(s.id) && !book.retracted.has(s.id))
    .filter((s) => isFinding(catalogue, checkAbout(catalogue, s), s))
    .findLast((s) => samePlace(s, statement) && unsays(statement, s));
  return fault === undefined ? [] : [settle(catalogue, fault)];
}

export function samePlace(a: Observation, b: Observation): boolean {
  const [left, right] = [placesOf(a), placesOf(b)];
  return left === null || right === null || left.some((p) => right.includes(p));
}

/** null: all, or not told. */
function placesOf(said: Observation): readonly string[] | null {
  if (said.about.kind !== 'check') return null;
  const { how, instances } = said.about.which;
  const told = instances.filter((i) => i !== ONCE);
  return how === 'all' || told.length === 0 ? null : told;
}

/** Whether one observation calls good what the other found. */
function unsays(good: Observation, bad: Observation): boolean {
  const present = bad.conditions.filter((c) => c.present);
  const again = good.conditions.filter((c) => c.present).map((c) => c.condition);
  if (present.some((c) => again.includes(c.condition))) return false;
  const absent = good.conditions.filter((c) => !c.present).map((c) => c.condition);
  if (present.some((c) => absent.includes(c.condition))) return true;
  if (good.verdict?.good !== true || good.verdict.actOnly) return false;
  const found = [...present.flatMap((c) => c.aspects), ...(bad.verdict?.aspects ?? [])];
  const praised = good.verdict.aspects;
  return found.length === 0 || praised.length === 0 || found.some((a) => praised.includes(a));
}
