import type { Catalogue } from '#shared/catalogue';
import type { Coverage } from '#shared/coverage';
import { counts, isOpen } from '../parts/words.ts';

/**
 * What may be said first, of this aircraft: the first open check that "good"
 * answers, where the pilot stands or where the walk begins. Null when none is left.
 */
export function exampleAt(
  catalogue: Catalogue,
  coverage: Coverage,
): { readonly station: string; readonly check: string } | null {
  const open = new Set(
    coverage.checks.filter((c) => counts(c) && isOpen(c.standing)).map((c) => c.check),
  );
  const here = catalogue.stations.filter((s) => s.id === coverage.station);
  for (const station of [...here, ...catalogue.stations]) {
    const check = station.checks.find((c) => open.has(c.id) && c.measures.length === 0);
    if (check !== undefined) return { station: station.name, check: check.name };
  }
  return null;
}
