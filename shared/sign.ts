import type { Catalogue, Check, Sign } from './catalogue.ts';
import type { ConditionSaid, Observation } from './statement.ts';
import { worse, type Severity } from './severity.ts';

/** Signs that may be found at a check, those of the catalogue by id included. */
export function signsAt(catalogue: Catalogue, check: Check | null): readonly Sign[] {
  if (check === null) return catalogue.signs.filter((s) => s.anywhere);
  return check.signs.flatMap((s) => {
    if (typeof s !== 'string') return [s];
    const found = catalogue.signs.find((known) => known.id === s);
    return found === undefined ? [] : [found];
  });
}

/**
 * The sign that a condition means: the one it was read as, otherwise the first
 * of the check that lists the condition word. null when the catalogue has none.
 */
export function signOf(
  catalogue: Catalogue,
  check: Check | null,
  said: ConditionSaid,
): Sign | null {
  const here = signsAt(catalogue, check);
  if (said.sign !== null) {
    return (
      here.find((s) => s.id === said.sign) ??
      catalogue.signs.find((s) => s.id === said.sign) ??
      null
    );
  }
  return here.find((s) => s.conditions.includes(said.condition)) ?? null;
}

/** Worst usual severity of the conditions that an observation asserts; null when neither a sign nor its word has one. */
export function proposedSeverity(
  catalogue: Catalogue,
  check: Check | null,
  said: Observation,
): Severity | null {
  return said.conditions
    .filter((c) => c.present)
    .map((c) => {
      const own = signOf(catalogue, check, c)?.severity ?? null;
      // What is in doubt has none by its word alone: its question offers them all.
      return own ?? (said.doubtful === null ? (c.usual ?? null) : null);
    })
    .reduce(worse, null);
}

/**
 * Whether these conditions are what happened to the whole aircraft (a hard landing, a
 * strike): signs that may be told anywhere, or what no catalogue lists and is told all the
 * same. Such a finding belongs to no check.
 */
export function isHappening(
  catalogue: Catalogue,
  conditions: readonly { readonly sign: string | null; readonly happened?: true | undefined }[],
): boolean {
  return (
    conditions.length > 0 &&
    conditions.every(
      (c) => c.happened === true || catalogue.signs.some((s) => s.anywhere && s.id === c.sign),
    )
  );
}
