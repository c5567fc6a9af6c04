import type { Catalogue } from '#shared/catalogue';
import type { Clause } from './clauses.ts';
import { speaking } from './predicates.ts';
import { rowBefore } from './row.ts';
import type { Token } from './tokens.ts';
import { stepsIn } from './steps.ts';
import { quantitiesIn, saysWhere } from './values.ts';

/**
 * "Belts, front first knuckle, rear second knuckle", "fuel, left half, right three
 * quarters": each place has its own value, so each is said by itself.
 */
export function placesApart(
  clause: Clause,
  tokens: readonly Token[],
  catalogue: Catalogue,
): Clause[] {
  const values = valuesIn(clause, tokens, catalogue);
  if (values.length === 0) return [clause];
  const states = clause.preds
    .filter(speaking)
    .filter((p) => !values.some((v) => v.from < p.to && p.from < v.to));
  const said = [...values, ...states].sort((a, b) => a.from - b.from);
  const cuts: number[] = [];
  said.forEach((one, i) => {
    const before = said[i - 1];
    if (before === undefined) return;
    const row = rowBefore(tokens, one.from, before.to);
    // "Thirty psi left and right, good": behind a value, the sides may be its own.
    if (row !== null && (values.includes(one) || (tokens[row.from]?.gap ?? 0) > 0))
      cuts.push(row.from);
  });
  if (cuts.length === 0) return [clause];
  const edges = [clause.from, ...cuts, clause.to];
  return edges.slice(0, -1).map((from, i) => {
    const to = edges[i + 1] ?? clause.to;
    const own = (p: { from: number }): boolean => p.from >= from && p.from < to;
    return {
      from,
      to,
      items: clause.items.filter(own),
      stations: clause.stations.filter(own),
      preds: clause.preds.filter(own),
      places: clause.places.filter(own),
      cues: clause.cues.filter(own),
      follows: i > 0 || clause.follows,
      contrast: i === 0 && clause.contrast,
    };
  });
}

/** Where the values stand, in order, none inside another. */
function valuesIn(
  clause: Clause,
  tokens: readonly Token[],
  catalogue: Catalogue,
): { from: number; to: number }[] {
  const steps = stepsIn(catalogue, tokens.slice(clause.from, clause.to)).map((s) => ({
    from: s.from + clause.from,
    to: s.to + clause.from,
  }));
  const numbers = quantitiesIn(tokens, clause.from, clause.to).filter(
    (q) =>
      !saysWhere(q, tokens) &&
      (q.units.length > 0 || q.number.part || q.number.value > COUNTED) &&
      !steps.some((s) => s.from < q.to && q.from < s.to),
  );
  return [...steps, ...numbers].sort((a, b) => a.from - b.from);
}
/** A whole number up to this, without a unit, may count things or number a place. */
const COUNTED = 12;
