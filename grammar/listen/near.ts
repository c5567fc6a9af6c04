import type { Catalogue } from '#shared/catalogue';
import type { Scene } from '#shared/scene';
import { spoken } from './spoken.ts';

/**
 * Share of the belief from which a station's names are likely. At 0.12 a walk that goes on
 * as walks do has one or two such stations, one that lost its way up to four; lower makes
 * everything likely, and so nothing.
 */
const LIKELY = 0.12;

/** Names of the checks at a station and at the next one, as they are listened for. */
export function nearNames(catalogue: Catalogue, station: string | null): string[] {
  const at = catalogue.stations.findIndex((s) => s.id === station);
  return namesAt(catalogue, at < 0 ? [0] : [at, at + 1]);
}

/**
 * Names that are likely in a scene: of the station where the walk stands and the next, of
 * those where the reader believes that it may be, and of what was just asked about.
 */
export function likelyNames(catalogue: Catalogue, scene: Scene): string[] {
  const at = catalogue.stations.findIndex((s) => s.id === scene.station);
  const believed = scene.talk.belief.flatMap((p, i) => (p >= LIKELY ? [i] : []));
  const asked = new Set(scene.question?.options.flatMap((o) => o.candidate?.check ?? []));
  const names = namesAt(catalogue, [...(at < 0 ? [0] : [at, at + 1]), ...believed]);
  const more = catalogue.stations
    .flatMap((s) => s.checks)
    .filter((check) => asked.has(check.id))
    .flatMap((check) => [check.name, ...check.say].map((name) => spoken(name).join(' ')));
  return [...new Set([...names, ...more])];
}

function namesAt(catalogue: Catalogue, stations: readonly number[]): string[] {
  return [...new Set(stations)].flatMap((i) =>
    (catalogue.stations[i]?.checks ?? []).flatMap((check) =>
      [check.name, ...check.say].map((name) => spoken(name).join(' ')),
    ),
  );
}
