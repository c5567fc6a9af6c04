import { aircraftSaid, sameRegistration } from '#record';
import type { AircraftChoice, WalkLine } from '#screens';
import type { SquawkDesk } from './squawk-desk.ts';

/** The aircraft that are known here: those that were walked, latest first, then those with squawks alone. */
export async function aircraftFrom(
  lines: readonly WalkLine[],
  desk: Pick<SquawkDesk, 'aircraft' | 'hoursOf' | 'openTitles'>,
  /** Aircraft that came with a catalogue and were never walked here. */
  given: ReadonlyMap<string, string> = new Map(),
): Promise<AircraftChoice[]> {
  const latest = new Map<string, string | null>();
  for (const { aircraft, catalogue } of lines)
    if (!latest.has(aircraft)) latest.set(aircraft, catalogue);
  for (const [aircraft, catalogue] of given)
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

/** The aircraft that a squawk is filed against, and what was said of it. */
export interface Addressed {
  readonly aircraft: string;
  /** The words without the registration that they began with. */
  readonly rest: string;
  /** One sentence where it is not the picked one, of no known aircraft, or could not be made out. */
  readonly told: string | null;
}

/**
 * A registration that is said goes before the one that was picked: filed under
 * another name, a fault would not be read out to who flies the aircraft next.
 */
export function addressed(text: string, picked: string, known: readonly string[]): Addressed {
  const said = aircraftSaid(text);
  if (said === null) return { aircraft: picked, rest: text, told: null };
  const { registration, words, rest } = said;
  if (registration === null) {
    const told = `No registration could be made out of “${words}”: check that it belongs to ${picked}.`;
    return { aircraft: picked, rest, told };
  }
  const found = known.find((name) => sameRegistration(name, registration));
  if (found !== undefined) {
    return { aircraft: found, rest, told: found === picked ? null : `Filed against ${found}.` };
  }
  const told = `No aircraft ${registration} is known on this device: if that is not what you meant by “${words}”, file it again under the right name.`;
  return { aircraft: registration, rest, told };
}
