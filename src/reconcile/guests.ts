import type { Event } from '#shared/event';
import type { State } from './state.ts';

/**
 * Where another device is that the walk has let in. Two people walk round one
 * aircraft at once: what either says counts, and neither is at the other's
 * station, on the other's hold, or speaks of what the other found last.
 */
export interface Guest {
  /** Why it is on hold; null while it is not. */
  readonly held: string | null;
  readonly lastFinding: string | null;
}

const ARRIVED: Guest = { held: null, lastFinding: null };

/** The device that the event is of, when it is not the one that began the walk; else null. */
export function guestIn(state: State, event: Event): Guest | null {
  if (state.device === null || event.device === state.device) return null;
  return state.guests.get(event.device) ?? ARRIVED;
}

export function withGuest(state: State, event: Event, change: Partial<Guest>): State['guests'] {
  const now = state.guests.get(event.device) ?? ARRIVED;
  return new Map(state.guests).set(event.device, { ...now, ...change });
}
