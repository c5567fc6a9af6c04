import { instancesOf, type Catalogue } from '#shared/catalogue';
import { FIRST_SCENE, type Scene } from '#shared/scene';
import type { Observation, Statement } from '#shared/statement';

/** Where each check stands and what places it has. */
export interface Places {
  stationOf(check: string): string | null;
  instances(check: string): readonly string[];
}

export function placesOf(catalogue: Catalogue): Places {
  const stations = new Map<string, string>();
  const instances = new Map<string, readonly string[]>();
  for (const station of catalogue.stations) {
    for (const check of station.checks) {
      stations.set(check.id, station.id);
      instances.set(check.id, instancesOf(check));
    }
  }
  return {
    stationOf: (check) => stations.get(check) ?? null,
    instances: (check) => instances.get(check) ?? [],
  };
}

/** The scene after a statement: the same whether it was just read or comes from the log. */
export function followScene(scene: Scene, statement: Statement, places: Places): Scene {
  switch (statement.kind) {
    case 'observation':
      return observed(scene, statement, places);
    case 'two-candidates':
      return { ...scene, last: statement.said, lastId: statement.id };
    case 'arrival':
      return { ...scene, station: statement.station, check: null, instances: [], last: null };
    case 'set-aside':
      return {
        ...scene,
        station: places.stationOf(statement.check) ?? scene.station,
        check: statement.check,
        instances: statement.instances,
        lastId: statement.id,
      };
    case 'retraction':
      return { ...scene, lastId: null, last: null, said: unsaid(scene, statement.of) };
    case 'rating':
      return { ...scene, lastId: statement.id };
    case 'command':
      return statement.command === 'begin' ? { ...FIRST_SCENE, squawked: scene.squawked } : scene;
    case 'circumstance':
    case 'not-understood':
      return scene;
  }
}

function counts(o: Observation): boolean {
  return (
    o.force === 'result' && (o.verdict !== null || o.conditions.length > 0 || o.values.length > 0)
  );
}

function observed(scene: Scene, o: Observation, places: Places): Scene {
  const answered =
    scene.question !== null && o.answers === scene.question.id ? null : scene.question;
  const base = { ...scene, question: answered };
  if (o.about.kind === 'station') {
    return { ...base, station: o.about.station, check: null, instances: [], last: o, lastId: o.id };
  }
  if (o.about.kind === 'unplaced') return counts(o) ? { ...base, last: o, lastId: o.id } : base;
  const { check, which } = o.about;
  // Teaching, the past and hearsay may wander: they move the speaker nowhere.
  if (o.force !== 'result' && o.force !== 'intention') return base;
  const instances = which.how === 'plural' ? [] : which.instances;
  const done = scene.said[check] ?? [];
  const said =
    counts(o) && which.how !== 'plural'
      ? { ...scene.said, [check]: [...new Set([...done, ...instances])] }
      : scene.said;
  return {
    ...base,
    station: places.stationOf(check) ?? scene.station,
    check,
    instances,
    said,
    last: o,
    lastId: counts(o) || o.doubtful !== null ? o.id : scene.lastId,
  };
}

/** Instances counted by a statement that was taken back are open again. */
function unsaid(scene: Scene, of: string): Scene['said'] {
  const { last } = scene;
  if (last === null || last.id !== of || last.about.kind !== 'check') return scene.said;
  const { check, which } = last.about;
  const rest = (scene.said[check] ?? []).filter((i) => !which.instances.includes(i));
  return { ...scene.said, [check]: rest };
}
