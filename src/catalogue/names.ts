import { instancesOf, type Catalogue, type Check, type Sign } from '#shared/catalogue';
import type { Found, Path } from './problem.ts';

/** Reports every value that has been seen before, with where the first one stands. */
function twice(entries: Iterable<readonly [string, Path]>, what: string): Found[] {
  const first = new Map<string, Path>();
  const found: Found[] = [];
  for (const [id, path] of entries) {
    if (first.has(id)) {
      found.push({ path, text: `The ${what} "${id}" is used twice; each has to be its own.` });
    } else first.set(id, path);
  }
  return found;
}

/** Every check with its path, in walking order. */
export function checksOf(catalogue: Catalogue): { check: Check; path: Path }[] {
  return catalogue.stations.flatMap((station, s) =>
    station.checks.map((check, c) => ({ check, path: ['stations', s, 'checks', c] })),
  );
}

/** Ids, and names inside one check, that are used twice. */
export function doubles(catalogue: Catalogue): Found[] {
  const checks = checksOf(catalogue);
  const shared = new Set(catalogue.signs.map((s) => s.id));
  return [
    ...twice(ids(catalogue.stations, ['stations']), 'station id'),
    ...twice(
      checks.map(({ check, path }) => [check.id, [...path, 'id']] as const),
      'check id',
    ),
    ...twice(ids(catalogue.signs, ['signs']), 'sign id'),
    ...twice(ids(catalogue.gauges, ['gauges']), 'gauge id'),
    ...catalogue.gauges.flatMap((gauge, g) =>
      twice(
        gauge.steps.map((step, i) => [step.name.toLowerCase(), ['gauges', g, 'steps', i]] as const),
        'gauge step',
      ),
    ),
    ...checks.flatMap(({ check, path }) => [
      ...twice(ids(check.aspects, [...path, 'aspects']), 'aspect'),
      ...twice(ids(check.measures, [...path, 'measures']), 'measure id'),
      ...twice(
        instancesOf(check).map((name) => [name.toLowerCase(), [...path, 'repeat']] as const),
        'place of the repeat',
      ),
      ...signDoubles(check.signs, [...path, 'signs'], shared),
    ]),
  ];
}

function ids(things: readonly { id: string }[], path: Path): (readonly [string, Path])[] {
  return things.map((thing, i) => [thing.id, [...path, i, 'id']] as const);
}

/** A sign of one check alone may not take the id of a sign of the catalogue: which was meant? */
function signDoubles(
  signs: readonly (string | Sign)[],
  path: Path,
  shared: ReadonlySet<string>,
): Found[] {
  const own = signs.flatMap((sign, i): Found[] =>
    typeof sign !== 'string' && shared.has(sign.id)
      ? [
          {
            path: [...path, i, 'id'],
            text: `The sign id "${sign.id}" belongs to a sign of the catalogue; name that one by its id alone, or give this one its own.`,
          },
        ]
      : [],
  );
  const each = signs.map((s, i) => [typeof s === 'string' ? s : s.id, [...path, i]] as const);
  return [...twice(each, 'sign'), ...own];
}
