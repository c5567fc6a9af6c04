/**
 * How much of the way between its limits a value may be from one of them and is
 * called near it; with one limit, of that limit itself. Smaller: a belt that wears
 * out is told a walk before it is out. Larger: every list is full of warnings,
 * and nobody reads them. It warns only: whether a value is a finding is R8's.
 */
export const NEAR = 0.1;

/** 4.2 less 4 is a hair more than a tenth of two, for a machine. */
const ROUNDING = 1 + 1e-9;

/** How a value stands to its limits; null: well within, or it has none. */
export function nearLimit(
  value: number,
  low: number | null,
  high: number | null,
): 'near' | 'past' | null {
  if ((low !== null && value < low) || (high !== null && value > high)) return 'past';
  const room = (limit: number) =>
    NEAR * (low !== null && high !== null ? high - low : Math.abs(limit));
  const near = [low, high].some(
    (limit) => limit !== null && Math.abs(limit - value) <= room(limit) * ROUNDING,
  );
  return near ? 'near' : null;
}
