import { signsOf, type Catalogue, type Check } from '#shared/catalogue';
import { checksOf } from './names.ts';
import type { Found } from './problem.ts';

/** The checks that something found at a check may demand. */
function demandedBy(catalogue: Catalogue, check: Check): readonly string[] {
  return [
    ...new Set([
      ...signsOf(catalogue, check).flatMap((sign) => sign.followUps),
      ...check.measures.flatMap((measure) => measure.followUps),
    ]),
  ];
}

/**
 * Follow-ups that lead round in a circle, and checks that wait for a sign that
 * nobody gives them. A chain has to end, or a walk with a finding cannot.
 */
export function chains(catalogue: Catalogue): Found[] {
  const checks = checksOf(catalogue);
  const next = new Map(checks.map(({ check }) => [check.id, demandedBy(catalogue, check)]));
  const pathOf = new Map(checks.map(({ check, path }) => [check.id, path]));
  const circles = circlesOf(next).map((circle): Found => ({
    path: [...(pathOf.get(String(circle[0])) ?? []), 'signs'],
    text: `The follow-ups go round in a circle: ${circle.join(' → ')}. Take one of them out.`,
  }));
  const demanded = new Set([
    ...[...next.values()].flat(),
    ...catalogue.signs.flatMap((sign) => sign.followUps),
  ]);
  const waiting = checks
    .filter(({ check }) => check.required === 'follow-up' && !demanded.has(check.id))
    .map(({ check, path }): Found => ({
      path: [...path, 'required'],
      text: `"${check.id}" is required only when a sign demands it, and none does; name it under "followUps" of a sign or a measure.`,
    }));
  return [...circles, ...waiting];
}

/** One circle for each check from which the search runs back into itself. Iterative: chains may be long. */
function circlesOf(next: ReadonlyMap<string, readonly string[]>): string[][] {
  const done = new Set<string>();
  const circles: string[][] = [];
  for (const from of next.keys()) {
    if (done.has(from)) continue;
    const trail: { id: string; rest: string[] }[] = [
      { id: from, rest: [...(next.get(from) ?? [])] },
    ];
    const on = new Map([[from, 0]]);
    while (trail.length > 0) {
      const top = trail[trail.length - 1];
      const to = top?.rest.shift();
      if (top === undefined) break;
      if (to === undefined) {
        on.delete(top.id);
        done.add(top.id);
        trail.pop();
      } else if (on.has(to)) {
        circles.push([...trail.slice(on.get(to)).map((step) => step.id), to]);
      } else if (!done.has(to) && next.has(to)) {
        on.set(to, trail.length);
        trail.push({ id: to, rest: [...(next.get(to) ?? [])] });
      }
    }
  }
  return circles;
}
