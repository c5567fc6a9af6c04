import type { AircraftChoice, WalkLine } from '#screens';
import type { SquawkDesk } from './squawk-desk.ts';

/** The aircraft that are known here: those that were walked, latest first, then those with squawks alone. */
export async function aircraftFrom(
  lines: readonly WalkLine[],
  desk: Pick<SquawkDesk, 'aircraft' | 'hoursOf' | 'openTitles'>,
): Promise<AircraftChoice[]> {
  const latest = new Map<string, string | null>();
  for (const { aircraft, catalogue } of lines)
    if (!latest.has(aircraft)) latest.set(aircraft, catalogue);
  for (const aircraft of await desk.aircraft())
    if (!latest.has(aircraft)) latest.set(aircraft, null);
  return Promise.all(
    [...latest].map(async ([aircraft, catalogue]) => ({
      aircraft,
      catalogue,
      hours: await desk.hoursOf(aircraft),
      openSquawks: await desk.openTitles(aircraft),
    })),
  );
}
