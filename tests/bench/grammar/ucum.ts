import { ucum } from '@atomic-ehr/ucum';

/** A value in another UCUM unit; null where either is missing, unknown or of another kind. */
export function convert(
  value: number,
  from: string | null | undefined,
  to: string | null | undefined,
): number | null {
  if (from === null || from === undefined || to === null || to === undefined) return null;
  if (from === to) return value;
  try {
    return ucum.isConvertible(from, to) ? ucum.convert(value, from, to) : null;
  } catch {
    return null;
  }
}
