import { useState } from 'react';
import type { Coverage } from '#shared/coverage';

const NONE: ReadonlySet<string> = new Set();

/** Checks whose standing is not what it was before the last words: those are drawn in. */
export function useFresh(coverage: Coverage): ReadonlySet<string> {
  const [seen, setSeen] = useState({ of: coverage, changed: NONE });
  if (seen.of === coverage) return seen.changed;
  const before = new Map(seen.of.checks.map((c) => [c.check, c.standing]));
  const changed = new Set(
    coverage.checks.filter((c) => before.get(c.check) !== c.standing).map((c) => c.check),
  );
  setSeen({ of: coverage, changed });
  return changed;
}
