import type { SchoolAircraft } from '#shared/school-people';
import { isSame } from './names.ts';

/** The names of a school's aircraft: what was said under an earlier one is the aircraft's own. */
export interface FleetNames {
  /** What an aircraft is called now; of one that is in no list, the name itself. */
  nameOf(name: string): string;
  /** One aircraft, however it is written and whatever it was called. */
  same(one: string, other: string): boolean;
  readonly list: readonly SchoolAircraft[];
}

export function fleetNames(list: readonly SchoolAircraft[]): FleetNames {
  const find = (name: string) =>
    list.find((a) => isSame(a.name, name)) ?? list.find((a) => a.was.some((w) => isSame(w, name)));
  return {
    list,
    nameOf: (name) => find(name)?.name ?? name,
    same(one, other) {
      if (isSame(one, other)) return true;
      const [a, b] = [find(one), find(other)];
      return a !== undefined && a.id === b?.id;
    },
  };
}
