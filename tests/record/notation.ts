import type { Draft, Event } from '#shared/event';
import type { Heard } from '#shared/heard';
import type { Log, World } from '#shared/log';
import type { Reader } from '#shared/reader';
import type { Scene } from '#shared/scene';
import type { Statement } from '#shared/statement';

/** A world whose ids and clocks are counted. Seconds pass only when they are told to. */
export function countedWorld(from = 0): World & { pass(seconds: number): void } {
  let ids = from;
  let seconds = 1000 + from;
  return {
    id: () => `e${String((ids += 1)).padStart(6, '0')}`,
    now: () => 1_700_000_000_000 + seconds * 1000,
    steady: () => seconds,
    pass: (more) => {
      seconds += more;
    },
  };
}

/** A log in memory that tells when it was written to, and that can be made to fail. */
export function memoryLog(): Log & {
  events: Event[];
  fail: string | null;
  writes: number;
  ends: number[];
} {
  const log = {
    events: [] as Event[],
    fail: null as string | null,
    writes: 0,
    /** How many events there were after each write. */
    ends: [] as number[],
    async append(drafts: readonly Draft[]) {
      await Promise.resolve();
      if (log.fail !== null) throw new Error(log.fail);
      log.writes += 1;
      const made = drafts.map((d): Event => ({ ...d, device: 'd', prev: null, hash: '' }));
      log.events.push(...made);
      log.ends.push(log.events.length);
      return made;
    },
    async walk() {
      return log.events;
    },
  };
  return log;
}

/**
 * A reader that knows sentences by heart: a table of words and what they mean.
 * `{last}` in a statement's target stands for the statement before it.
 */
export function readerOf(
  table: Readonly<Record<string, (scene: Scene) => readonly Statement[]>>,
): Reader & { reads: string[] } {
  const reads: string[] = [];
  const follow = (scene: Scene, statement: Statement): Scene => {
    const id = statement.kind === 'observation' ? statement.id : scene.lastId;
    if (statement.kind === 'arrival') return { ...scene, station: statement.station };
    if (statement.kind !== 'observation' || statement.about.kind !== 'check') {
      return { ...scene, lastId: id };
    }
    return { ...scene, check: statement.about.check, last: statement, lastId: id };
  };
  return {
    reads,
    follow,
    read(heard: Heard, scene: Scene) {
      reads.push(heard.text);
      const make = table[heard.text];
      if (make === undefined) throw new Error(`no such sentence: ${heard.text}`);
      const statements = make(scene).map((statement, i) => {
        const id = `${heard.id}.${i}`;
        const made = { ...statement, id, heard: heard.id };
        return made.kind === 'two-candidates' ? { ...made, said: { ...made.said, id } } : made;
      });
      return { statements, scene: statements.reduce(follow, scene) };
    },
  };
}

export function heard(id: string, text: string, more: Partial<Heard> = {}): Heard {
  return {
    v: 1,
    id,
    by: 'embedded',
    text,
    words: [],
    alternatives: [],
    from: null,
    to: null,
    confidence: null,
    sound: null,
    speaker: null,
    sentAway: false,
    ...more,
  };
}
