import { editionOf } from '#catalogue';
import { createSession } from '#record';
import { coverageOf, start, step } from '#reconcile';
import type { Catalogue } from '#shared/catalogue';
import type { Circumstance } from '#shared/circumstance';
import type { Coverage } from '#shared/coverage';
import type { Event, Happening } from '#shared/event';
import type { Heard } from '#shared/heard';
import type { Log, World } from '#shared/log';
import type { Reader } from '#shared/reader';
import type { Statement } from '#shared/statement';

/** A walk that comes from a file: all of it is there at once. */
export interface WholeWalk {
  readonly catalogue: Catalogue;
  readonly reader: Reader;
  readonly log: Log;
  readonly world: World;
  readonly heard: readonly Heard[];
  readonly aircraft: string;
  readonly circumstances: readonly Circumstance[];
  readonly pilot?: string | null;
  readonly instructor?: string | null;
  /** Aircraft time in service, hours. */
  readonly hours?: number | null;
  /** When it was walked, milliseconds since 1970; now where it is not known. */
  readonly begun?: number;
  /** Steps in the life of a squawk that a statement demands. */
  readonly also?: (statement: Statement, heard: Heard) => readonly Happening[];
  /** Done once the walk has begun and nothing is read yet; what it gives back is read, such as with its sound. */
  readonly onBegun?: (walk: string) => Promise<readonly Heard[]>;
  /** What is written up when it is finished. */
  readonly atFinish?: (coverage: Coverage, events: readonly Event[]) => readonly Happening[];
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
  /** Seconds of the file that are read. */
  let t = 0;
  const session = createSession({
    catalogue: walk.catalogue,
    reader: walk.reader,
    log: walk.log,
    // A file's own times are the walk's: how fast it is read says nothing of the pace.
    world: {
      id: () => walk.world.id(),
      now: () => (walk.begun === undefined ? walk.world.now() : walk.begun + t * 1000),
      steady: () => 0,
    },
    onEvents: (added) => {
      for (const event of added) {
        state = step(state, event).state;
        events.push(event);
      }
    },
    open: () => openChecks(coverageOf(state)),
    ...(walk.also === undefined ? {} : { also: walk.also }),
  });
  await session.begin({
    aircraft: walk.aircraft,
    edition,
    circumstances: [...walk.circumstances],
    pilot: walk.pilot ?? null,
    instructor: walk.instructor ?? null,
    hours: walk.hours ?? null,
    listening: 'file',
    squawks: [],
  });
  const all = (await walk.onBegun?.(session.walk)) ?? walk.heard;
  for (const [i, heard] of all.entries()) {
    t = Math.max(t, heard.to ?? heard.from ?? 0);
    await session.hear(heard);
    walk.onProgress?.(i + 1);
  }
  if (!coverageOf(state).finished) await session.finish({ how: 'end-of-file' });
  for (const squawk of walk.atFinish?.(coverageOf(state), events) ?? []) await session.note(squawk);
  return { walk: session.walk, coverage: coverageOf(state), events };
}

/** Ids of the checks that are required today and not spoken for. */
export function openChecks(coverage: Coverage): string[] {
  return coverage.checks
    .filter((c) => c.required.today && c.standing !== 'spoken' && c.standing !== 'set-aside')
    .map((c) => c.check);
}
