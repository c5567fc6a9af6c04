import { editionOf } from '#catalogue';
import { createSession } from '#record';
import { coverageOf, start, step } from '#reconcile';
import type { Catalogue } from '#shared/catalogue';
import type { Circumstance } from '#shared/circumstance';
import type { Coverage } from '#shared/coverage';
import type { Event } from '#shared/event';
import type { Heard } from '#shared/heard';
import type { Log, World } from '#shared/log';
import type { Reader } from '#shared/reader';

/** A walk that comes from a file: all of it is there at once. */
export interface WholeWalk {
  readonly catalogue: Catalogue;
  readonly reader: Reader;
  readonly log: Log;
  readonly world: World;
  readonly heard: readonly Heard[];
  readonly aircraft: string;
  readonly circumstances: readonly Circumstance[];
  /** Told after each utterance: how many are read. */
  readonly onProgress?: (read: number) => void;
}

/** Takes a whole file through session, grammar and reconciler, as if it were heard now. */
export async function walkThrough(
  walk: WholeWalk,
): Promise<{ walk: string; coverage: Coverage; events: readonly Event[] }> {
  const edition = editionOf(walk.catalogue);
  let state = start(walk.catalogue, edition);
  const events: Event[] = [];
  const session = createSession({
    catalogue: walk.catalogue,
    reader: walk.reader,
    log: walk.log,
    // Without times no pace is made up: how fast a file is read says nothing of the walk.
    world: walk.heard.some((h) => h.from !== null)
      ? walk.world
      : { ...walk.world, id: () => walk.world.id(), now: () => walk.world.now(), steady: () => 0 },
    onEvents: (added) => {
      for (const event of added) {
        state = step(state, event).state;
        events.push(event);
      }
    },
    open: () => openChecks(coverageOf(state)),
  });
  await session.begin({
    aircraft: walk.aircraft,
    edition,
    circumstances: [...walk.circumstances],
    pilot: null,
    instructor: null,
    hours: null,
    listening: 'file',
    squawks: [],
  });
  for (const [i, heard] of walk.heard.entries()) {
    await session.hear(heard);
    walk.onProgress?.(i + 1);
  }
  if (!coverageOf(state).finished) await session.finish({ how: 'end-of-file' });
  return { walk: session.walk, coverage: coverageOf(state), events };
}

/** Ids of the checks that are required today and not spoken for. */
export function openChecks(coverage: Coverage): string[] {
  return coverage.checks
    .filter((c) => c.required.today && c.standing !== 'spoken' && c.standing !== 'set-aside')
    .map((c) => c.check);
}
