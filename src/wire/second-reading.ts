import { createSession } from '#record';
import { differencesIn, fold } from '#reconcile';
import type { SecondReading, WalkRecord } from '#screens';
import type { Event, ReadBy } from '#shared/event';
import type { Log } from '#shared/log';
import type { Reader } from '#shared/reader';
import { BY_TOUCH, type Statement } from '#shared/statement';
import { byHand } from './by-hand.ts';
import { begunIn } from './records.ts';

/**
 * Reads the words of a kept walk once more, with the reader of today, beside the
 * record: nothing is written. What was touched is taken as it was touched; what
 * was heard is heard again at its time, with what was asked and answered.
 */
export async function secondReading(record: WalkRecord, reader: Reader): Promise<SecondReading> {
  const { catalogue, events } = record;
  const edition = record.coverage.edition;
  const again = await readAnew(record, reader);
  return {
    was: readerOf(events),
    now: reader.by ?? null,
    ...differencesIn(record.coverage, fold(catalogue, again, edition)),
  };
}

/** Which reader read a walk last; null where the walk does not say. */
export function readerOf(events: readonly Event[]): ReadBy | null {
  return events.reduce<ReadBy | null>((last, { what }) => {
    if (what.kind === 'walk-begun') return what.reader ?? last;
    return what.kind === 'reader-changed' ? what.reader : last;
  }, null);
}

/** The events as they would have come. In memory: their chain is nobody's. */
async function readAnew({ catalogue, events }: WalkRecord, reader: Reader): Promise<Event[]> {
  const begun = begunIn(events);
  const first = events.find((e) => e.what.kind === 'walk-begun');
  if (begun === null || first === undefined) return [];
  const made: Event[] = [];
  let ids = 0;
  let t = 0;
  const log: Log = {
    append(drafts) {
      const added = drafts.map((d): Event => ({
        ...d,
        device: first.device,
        prev: null,
        hash: '',
      }));
      made.push(...added);
      return Promise.resolve(added);
    },
    walk: () => Promise.resolve(made),
  };
  const world = {
    id: () => `again-${String((ids += 1)).padStart(8, '0')}`,
    now: () => first.at + t * 1000,
    steady: () => t,
  };
  const hand = byHand(reader);
  const session = createSession({
    catalogue,
    reader: hand.reader,
    log,
    world,
    walk: first.walk ?? 'again',
  });
  await session.begin(begun);
  const touched = touchedIn(events);
  const said = circumstancesSaid(events);
  for (const event of events) {
    const { what } = event;
    // No time of a review or of a squawk written up later: the walk's own time only.
    t = Math.max(t, event.t ?? t);
    switch (what.kind) {
      case 'heard': {
        const by = touched.get(what.heard.id);
        if (by !== undefined) hand.prepare(what.heard.id, () => by);
        await session.hear(what.heard);
        break;
      }
      case 'question-closed': {
        // A question that was passed over is passed over again by itself.
        if (what.how === 'unanswered' && session.question()?.id === what.question)
          await session.unanswered(what.question);
        break;
      }
      case 'finding-placed':
        await session.place(what.statement, what.check, what.instances, what.by);
        break;
      case 'held':
        // What was said follows from the reading, or does not.
        if (what.why !== 'said') await session.hold(what.why);
        break;
      case 'resumed':
        await session.resume();
        break;
      case 'station-set':
        await session.setStation(what.station);
        break;
      case 'spoken':
        await session.spoke(what.text, what.from, what.to);
        break;
      case 'finished':
        if (!made.some((e) => e.what.kind === 'finished'))
          await session.finish({ how: what.how ?? 'said' });
        break;
      case 'circumstance-set':
        if (!said.has(`${what.circumstance} ${String(what.holds)}`)) await session.note(what);
        break;
      case 'decided':
      case 'signed':
        await session.note(what);
        break;
      // The rest bears on no standing, or follows from what is read.
      default:
    }
  }
  return made;
}

/** Circumstances that words set, and no touch. */
function circumstancesSaid(events: readonly Event[]): ReadonlySet<string> {
  return new Set(
    events.flatMap(({ what }) =>
      what.kind === 'stated' && what.statement.kind === 'circumstance'
        ? [`${what.statement.circumstance} ${String(what.statement.holds)}`]
        : [],
    ),
  );
}

/** Statements that were set by touch, by the words that stand for the touch. */
function touchedIn(events: readonly Event[]): ReadonlyMap<string, Statement> {
  return new Map(
    events.flatMap(({ what }) =>
      what.kind === 'stated' && what.statement.why.includes(BY_TOUCH)
        ? [[what.statement.heard, what.statement] as const]
        : [],
    ),
  );
}
