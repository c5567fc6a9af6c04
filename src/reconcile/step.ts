import type { Catalogue } from '#shared/catalogue';
import type { Coverage } from '#shared/coverage';
import type { Event } from '#shared/event';
import { coverageOf } from './coverage.ts';
import { isSame } from './same.ts';
import { settle } from './settle.ts';
import { bareState, type Past, type State } from './state.ts';
import { take } from './take.ts';
import { Work } from './work.ts';

const begun = new WeakMap<Catalogue, State>();

/**
 * A walk before its first event: every check unspoken.
 *
 * @param edition Content hash of the catalogue, where the caller knows it: a
 * walk that began with another edition then says so among its oddities.
 */
export function start(catalogue: Catalogue, edition: string | null = null): State {
  const known = begun.get(catalogue);
  if (known !== undefined) return edition === null ? known : { ...known, using: edition };
  const work = new Work(bareState(catalogue, null));
  for (const spot of work.state.atlas.spots) work.touched.add(spot.index);
  settle(work);
  begun.set(catalogue, work.state);
  return edition === null ? work.state : { ...work.state, using: edition };
}

/**
 * Takes one event in and gives the new state with the ids of the checks whose
 * coverage changed. An event that is known already changes nothing. One that
 * comes late is put where it belongs and the walk is worked out anew, so that
 * the order of arrival never matters.
 */
export function step(state: State, event: Event): { state: State; changed: readonly string[] } {
  const last = state.past?.event;
  const place = last === undefined ? 1 : inOrder(event, last);
  if (place <= 0) {
    if (isKnown(state, event)) return { state, changed: [] };
    const events = [...pastOf(state), event];
    const next = stateOf(state.atlas.catalogue, events, state.using);
    return { state: next, changed: differences(state, next) };
  }
  const work = new Work(state);
  take(work, event);
  const changed = settle(work);
  return { state: work.state, changed };
}

/** The state after these events, in whatever order they come. */
export function stateOf(
  catalogue: Catalogue,
  events: readonly Event[],
  edition: string | null = null,
): State {
  return settled(catalogue, events, edition) ?? settledAnew(catalogue, events, edition);
}

/** Takes the events as they come; null as soon as one is out of its order, which is rare. */
function settled(
  catalogue: Catalogue,
  events: readonly Event[],
  edition: string | null,
): State | null {
  const work = new Work(start(catalogue, edition));
  let last: Event | null = null;
  for (const event of events) {
    const place = last === null ? -1 : inOrder(last, event);
    if (place > 0) return null;
    if (place < 0) take(work, event);
    last = event;
  }
  settle(work);
  return work.state;
}

function settledAnew(
  catalogue: Catalogue,
  events: readonly Event[],
  edition: string | null,
): State {
  const state = settled(catalogue, [...events].sort(inOrder), edition);
  if (state === null) throw new Error('Events that were put in order are out of order.');
  return state;
}

/** The coverage after these events, in whatever order they come. */
export function fold(
  catalogue: Catalogue,
  events: readonly Event[],
  edition: string | null = null,
): Coverage {
  return coverageOf(stateOf(catalogue, events, edition));
}

/** Whether an event is among those taken already. Only asked of one that is not the latest. */
function isKnown(state: State, event: Event): boolean {
  for (let past: Past | null = state.past; past !== null; past = past.earlier) {
    const place = inOrder(event, past.event);
    if (place >= 0) return place === 0;
  }
  return false;
}

/**
 * Order of two events: the beginning first, then by the walk's own clock, then
 * by id, which a UUIDv7 makes the order of writing. What has no time in the
 * walk, such as a later review, comes last.
 */
export function inOrder(a: Event, b: Event): number {
  const first = a.what.kind === 'walk-begun';
  if (first !== (b.what.kind === 'walk-begun')) return first ? -1 : 1;
  const left = a.t ?? Number.POSITIVE_INFINITY;
  const right = b.t ?? Number.POSITIVE_INFINITY;
  if (left !== right) return left < right ? -1 : 1;
  return a.id < b.id ? -1 : a.id > b.id ? 1 : 0;
}

function pastOf(state: State): Event[] {
  const events: Event[] = [];
  for (let past: Past | null = state.past; past !== null; past = past.earlier) {
    events.push(past.event);
  }
  return events.reverse();
}

function differences(a: State, b: State): readonly string[] {
  return b.results.flatMap((result, i) =>
    isSame(a.results[i]?.coverage, result.coverage) ? [] : [result.coverage.check],
  );
}
