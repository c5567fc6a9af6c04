import { instancesOf, type Catalogue, type Check, type Station } from '#shared/catalogue';
import type { Circumstance } from '#shared/circumstance';

/** A check with what the rules ask about it all the time. */
export interface Spot {
  readonly index: number;
  readonly check: Check;
  readonly station: Station;
  readonly stationIndex: number;
  /** Whether the catalogue asks for its stations in order. */
  readonly walkInOrder: boolean;
  /** Place among the checks of its station. */
  readonly placed: number;
  readonly instances: readonly string[];
  /** Ids of its aspects; one nameless aspect when it declares none. */
  readonly aspects: readonly string[];
}

/** The catalogue, indexed. Made once for each catalogue. */
export interface Atlas {
  readonly catalogue: Catalogue;
  readonly spots: readonly Spot[];
  readonly byId: ReadonlyMap<string, Spot>;
  readonly stations: ReadonlyMap<string, readonly Spot[]>;
  readonly byCircumstance: ReadonlyMap<Circumstance, readonly number[]>;
}

/** The aspect of a check that declares none. */
export const WHOLE = '';

const made = new WeakMap<Catalogue, Atlas>();

export function atlasOf(catalogue: Catalogue): Atlas {
  const known = made.get(catalogue);
  if (known !== undefined) return known;
  const spots: Spot[] = [];
  const byId = new Map<string, Spot>();
  const stations = new Map<string, readonly Spot[]>();
  const byCircumstance = new Map<Circumstance, number[]>();
  catalogue.stations.forEach((station, stationIndex) => {
    const here = station.checks.map((check, placed): Spot => {
      const aspects = check.aspects.map((a) => a.id);
      return {
        index: spots.length + placed,
        check,
        station,
        stationIndex,
        walkInOrder: catalogue.inOrder,
        placed,
        instances: instancesOf(check),
        aspects: aspects.length === 0 ? [WHOLE] : aspects,
      };
    });
    for (const spot of here) {
      // A catalogue with an id twice is refused by its own check; the first one stands.
      if (!byId.has(spot.check.id)) byId.set(spot.check.id, spot);
      if (typeof spot.check.required === 'string') continue;
      for (const circumstance of spot.check.required) {
        byCircumstance.set(circumstance, [...(byCircumstance.get(circumstance) ?? []), spot.index]);
      }
    }
    spots.push(...here);
    stations.set(station.id, here);
  });
  const atlas = { catalogue, spots, byId, stations, byCircumstance };
  made.set(catalogue, atlas);
  return atlas;
}

/**
 * The aspects that a general verdict speaks for when the reading names none:
 * `condition` where the check has it, otherwise its only aspect, otherwise none.
 */
export function generalAspects(spot: Spot): readonly string[] {
  if (spot.aspects.includes('condition')) return ['condition'];
  return spot.aspects.length === 1 ? spot.aspects : [];
}

export function aspectName(spot: Spot, aspect: string): string {
  return spot.check.aspects.find((a) => a.id === aspect)?.name ?? aspect;
}
