import { instancesOf } from '#shared/catalogue';
import { SIDE_WORDS, stems, type CheckEntry, type Names } from './names.ts';

/**
 * The same thing on another side: "left brake line" has its sibling at the right
 * where the two are checks of their own. Null where the check itself has that side.
 */
export function siblingOf(
  entry: CheckEntry,
  sides: readonly string[],
  names: Names,
): CheckEntry | null {
  if (sides.length === 0) return null;
  const places = instancesOf(entry.check).flatMap((i) => stems(i));
  if (sides.some((s) => places.includes(s) || entry.sides.has(s))) return null;
  const own = new Set(entry.names.map(bare));
  const found = names.checks.filter(
    (other) =>
      other !== entry &&
      sides.every((s) => other.sides.has(s)) &&
      other.names.some((n) => own.has(bare(n))),
  );
  return found.length === 1 ? (found[0] ?? null) : null;
}

function bare(name: string): string {
  return stems(name)
    .filter((w) => !SIDE_WORDS.has(w))
    .join(' ');
}
