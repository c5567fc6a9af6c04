import { aircraftSaid, sameRegistration } from '#record';

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
