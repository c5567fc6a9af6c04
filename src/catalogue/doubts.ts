import type { Catalogue } from '#shared/catalogue';
import { checksOf } from './names.ts';
import type { Found } from './problem.ts';

/** What may be meant so, but is more often a slip: told as warnings. */
export function doubts(catalogue: Catalogue): Found[] {
  return [...unused(catalogue), ...blankets(catalogue), ...spelled(catalogue)];
}

/** Two checks of one station with one name can never be told apart by ear: a mistake, not a doubt. */
export function sameNames(catalogue: Catalogue): Found[] {
  return catalogue.stations.flatMap((station, s) => {
    const first = new Map<string, string>();
    return station.checks.flatMap((check, c): Found[] => {
      const names = new Set([check.name, ...check.say].map((name) => name.toLowerCase()));
      return [...names].flatMap((name): Found[] => {
        const other = first.get(name);
        first.set(name, other ?? check.id);
        if (other === undefined || other === check.id) return [];
        return [
          {
            path: ['stations', s, 'checks', c],
            text: `"${check.id}" and "${other}" are both called "${name}" at the station "${station.id}"; nobody can tell them apart by ear. Give one of them another name.`,
          },
        ];
      });
    });
  });
}

function unused(catalogue: Catalogue): Found[] {
  const checks = checksOf(catalogue);
  const signs = new Set(
    checks.flatMap(({ check }) => check.signs.filter((sign) => typeof sign === 'string')),
  );
  const gauges = new Set(checks.flatMap(({ check }) => check.measures.map((m) => m.gauge)));
  return [
    ...catalogue.signs.flatMap((sign, i): Found[] =>
      signs.has(sign.id) || sign.anywhere
        ? []
        : [{ path: ['signs', i], text: `No check names the sign "${sign.id}".` }],
    ),
    ...catalogue.gauges.flatMap((gauge, i): Found[] =>
      gauges.has(gauge.id)
        ? []
        : [{ path: ['gauges', i], text: `No measure uses the gauge "${gauge.id}".` }],
    ),
  ];
}

/** A blanket never gives a value, so the check would stay half said for ever. */
function blankets(catalogue: Catalogue): Found[] {
  return checksOf(catalogue).flatMap(({ check, path }): Found[] =>
    check.blanket && check.measures.length > 0
      ? [
          {
            path: [...path, 'blanket'],
            text: `"${check.id}" is measured, and a blanket gives no value; it has to be named all the same.`,
          },
        ]
      : [],
  );
}

/** A pronunciation of a word that is in none of the names does nothing. */
function spelled(catalogue: Catalogue): Found[] {
  return checksOf(catalogue).flatMap(({ check, path }) => {
    const words = [
      check.name,
      ...check.say,
      ...check.aspects.flatMap((a) => [a.name, ...a.say]),
      ...check.signs.flatMap((s) => (typeof s === 'string' ? [] : [s.name, ...s.say])),
    ]
      .join(' ')
      .toLowerCase();
    return Object.keys(check.pronounce).flatMap((word): Found[] =>
      words.includes(word.toLowerCase())
        ? []
        : [
            {
              path: [...path, 'pronounce', word],
              text: `"${word}" is in none of the names of "${check.id}".`,
            },
          ],
    );
  });
}
