import type { CheckCoverage } from '#shared/coverage';
import type { Tally } from './tally.ts';
import { bare } from './words.ts';

type Measured = NonNullable<CheckCoverage['measured']>[number];

/** What was measured at each place of a check, the last value of each, in the order of its places. */
export function measuredIn({ readings, spot }: Tally): Pick<CheckCoverage, 'measured'> {
  const found = new Map<string, Measured>();
  // From the last to the first: what was said again later is not worked out at all.
  for (let k = readings.length - 1; k >= 0; k -= 1) {
    const { values = [], at: all = [] } = readings[k] ?? {};
    // One that may be of any place takes the place of nothing that was said of one.
    values.forEach(({ value, measure, at }, i) => {
      const of = at === undefined ? all : (at ?? []);
      const places = of.length === 0 ? [null] : of;
      for (const instance of places) {
        const key = `${measure}\n${instance ?? i}`;
        if (found.has(key)) continue;
        found.set(key, {
          measure,
          instance,
          said: bare(value.span.words),
          ...(value.inUnit === null ? {} : { inUnit: value.inUnit }),
        });
      }
    });
  }
  if (found.size === 0) return {};
  const measures = spot.check.measures.map((m) => m.id);
  const rank = (m: Measured) =>
    measures.indexOf(m.measure) * (spot.instances.length + 1) +
    (m.instance === null ? spot.instances.length : spot.instances.indexOf(m.instance));
  return { measured: [...found.values()].sort((a, b) => rank(a) - rank(b)) };
}
