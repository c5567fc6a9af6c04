import { get } from './map.ts';
import { marksOn, type Records } from './ledger.ts';

/**
 * Checks that have to be looked at again when something happens to a statement:
 * its own, those of what it amends or takes back, and those of what amends it
 * or was placed or reviewed by hand.
 */
export function spotsAround(records: Records, id: string): ReadonlySet<number> {
  const spots = new Set<number>();
  const seen = new Set<string>();
  const waiting = [id];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    if (seen.has(next)) continue;
    seen.add(next);
    const entry = get(records.entries, next);
    for (const spot of entry?.spots ?? []) spots.add(spot);
    if (entry !== undefined && entry.target !== null) waiting.push(entry.target);
    for (const mark of marksOn(records, next)) {
      waiting.push(mark.by);
      if (mark.spot !== undefined) spots.add(mark.spot);
    }
  }
  return spots;
}
