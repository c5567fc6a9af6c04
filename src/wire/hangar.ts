import { isCarried, squawksOf } from '#reconcile';
import { squawkTitle } from '#report';
import type { AircraftChoice } from '#screens';
import type { Store, WalkSummary } from '#store';
import type { Fault, SquawkState } from '#shared/squawk';
import { fleetNames, type FleetNames } from './fleet-names.ts';
import type { CatalogueShelf } from './shelf.ts';
import { FOLDED_BY } from './versions.ts';

/** The squawks of all aircraft as far as the first screen shows them. */
interface OpenSquawks {
  /** Every aircraft that ever had one. */
  readonly aircraft: readonly string[];
  readonly open: readonly {
    readonly aircraft: string;
    readonly fault: Fault;
    readonly state: SquawkState;
  }[];
}

/** As it is kept: with the state of the log that it was made from, and what made it. */
interface Kept extends OpenSquawks {
  readonly mark: string;
  readonly by: string;
}

const KIND = 'squawks';
/** Not the key of before: those kept no state. */
const KEY = 'carried';

/**
 * The aircraft that are known here: those that were walked, latest first, then
 * those with squawks alone. Reads no walk and, unless one was written, no squawk.
 */
export async function aircraftIn(
  store: Store,
  shelf: CatalogueShelf,
  /** Aircraft that came with a catalogue and were never walked here, with its id. */
  given: ReadonlyMap<string, string> = new Map(),
  /** The list of the school: its names and its catalogues go first. */
  school: FleetNames = fleetNames([]),
): Promise<AircraftChoice[]> {
  const [walks, squawks] = await Promise.all([store.walks(), openSquawks(store)]);
  const latest = new Map<string, WalkSummary>();
  // A walk that was thrown away makes no aircraft known.
  for (const walk of walks) {
    if (!walk.discarded && ![...latest.keys()].some((name) => school.same(name, walk.aircraft)))
      latest.set(school.nameOf(walk.aircraft), walk);
  }
  const hours = hoursIn(walks);
  const all = shelf.all();
  // One aircraft, one row, as it was written last.
  const names: string[] = [];
  const listed = school.list.map((a) => a.name);
  for (const name of [...latest.keys(), ...listed, ...given.keys(), ...squawks.aircraft])
    if (!names.some((n) => school.same(n, name))) names.push(school.nameOf(name));
  return names.map((aircraft) => {
    const own = school.list.find((a) => a.name === aircraft);
    const catalogue =
      own?.catalogue ?? latest.get(aircraft)?.catalogue ?? given.get(aircraft) ?? null;
    const read = all.find((e) => e.catalogue.id === catalogue);
    return {
      aircraft,
      catalogue,
      ...(own?.retired === true ? { retired: true } : {}),
      hours: hours.get(latest.get(aircraft)?.aircraft ?? aircraft) ?? null,
      openSquawks: squawks.open
        .filter((s) => school.same(s.aircraft, aircraft))
        .map((s) => `${squawkTitle(s.fault, read?.catalogue ?? null)}${doneWords(s.state)}`),
      squawkedChecks: squawks.open.flatMap((s) =>
        school.same(s.aircraft, aircraft) && s.fault.check !== null ? [s.fault.check] : [],
      ),
    };
  });
}

/** Behind the title of a squawk that is still carried: somebody has to look whether it is mended. */
export function doneWords(state: SquawkState): string {
  return state === 'rectified' ? ', rectified' : '';
}

/** The hours of each aircraft that were given last. */
export function hoursIn(walks: readonly WalkSummary[]): ReadonlyMap<string, number> {
  const hours = new Map<string, number>();
  for (const walk of walks)
    if (walk.hours !== null && !hours.has(walk.aircraft)) hours.set(walk.aircraft, walk.hours);
  return hours;
}

async function openSquawks(store: Store): Promise<OpenSquawks> {
  const mark = await store.squawkMark();
  const kept = (await store.derived(KIND)).get(KEY);
  if (isKept(kept) && kept.mark === mark && kept.by === FOLDED_BY) return kept;
  const all = squawksOf(await store.squawkEvents());
  const fresh: Kept = {
    mark,
    by: FOLDED_BY,
    aircraft: [...new Set(all.map((s) => s.aircraft))],
    open: all.filter(isCarried).map(({ aircraft, fault, state }) => ({ aircraft, fault, state })),
  };
  await store.keepDerived(KIND, new Map([[KEY, fresh]]));
  return fresh;
}

function isKept(value: unknown): value is Kept {
  if (typeof value !== 'object' || value === null) return false;
  const { mark, by, aircraft, open } = value as Partial<Kept>;
  return (
    typeof mark === 'string' &&
    typeof by === 'string' &&
    Array.isArray(aircraft) &&
    Array.isArray(open)
  );
}
