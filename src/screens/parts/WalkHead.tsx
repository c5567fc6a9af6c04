import type { WalkRecord } from '../services.ts';
import { dateTime } from './words.ts';

/** Who walked, who taught, on what, when, at how many hours: the head of everything that shows a walk. */
export function headWords({ aircraft, events }: WalkRecord): string {
  const begun = events.find((e) => e.what.kind === 'walk-begun');
  if (begun?.what.kind !== 'walk-begun') return aircraft;
  const { pilot, instructor, hours } = begun.what;
  return [
    aircraft,
    dateTime(begun.at),
    pilot === null ? 'pilot not named' : `pilot ${pilot}`,
    instructor === null ? null : `instructor ${instructor}`,
    hours === null ? null : `${hours} h`,
  ]
    .filter((part) => part !== null)
    .join(', ');
}
