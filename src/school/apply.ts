import { sql, type Transaction } from 'kysely';
import { Event } from '#shared/event';
import { erasedIn } from '#shared/kept';
import { namedPicture, showWith, tellErased, type Numbered } from './pictures.ts';
import { personNamed } from './people.ts';
import { applyPhrases } from './phrases.ts';
import type { NewEvent, Tables } from './tables.ts';
import { keptByNobody, toDelete } from './unkept.ts';

type Change = Partial<{
  station: string;
  finished: boolean;
  signed: boolean;
}>;

/** Kinds that the lists are made of; every other event only counts. */
const TELLING: ReadonlySet<string> = new Set([
  'walk-begun',
  'station-set',
  'finished',
  'signed',
  'sound-kept',
  'sound-erased',
  'picture-kept',
  'picture-erased',
  'squawk',
]);

/**
 * Brings the lists up to date with events that count: walks as they stand, and
 * sound and pictures that are named or erased. They can be made anew from the log.
 *
 * @returns hashes of bytes that are to be deleted
 */
export async function applyRows(
  tx: Transaction<Tables>,
  school: string,
  rows: readonly NewEvent[],
): Promise<readonly string[]> {
  const walks = new Map<string, { change: Change; events: number; last: number }>();
  const gone = new Set<string>();
  for (const row of rows) {
    const event = TELLING.has(row.kind) ? read(row) : null;
    if (event !== null) await applyOne(tx, school, { seq: row.seq, event });
    const erased = event === null ? null : erasedIn(event.what);
    if (erased !== null) gone.add(erased);
    if (typeof row.walk !== 'string') continue;
    const at = walks.get(row.walk) ?? { change: {}, events: 0, last: 0 };
    walks.set(row.walk, {
      change: { ...at.change, ...changeOf(event) },
      events: at.events + 1,
      last: Math.max(at.last, event?.at ?? timeIn(row.text)),
    });
  }
  for (const [id, { change, events, last }] of walks)
    await tx
      .updateTable('walk')
      .set((e) => ({
        ...change,
        events: e('events', '+', events),
        last: sql<number>`greatest(last, ${last}::bigint)`,
      }))
      .where('school', '=', school)
      .where('id', '=', id)
      .execute();
  await applyPhrases(tx, school, rows);
  return dropSound(tx, school, [...gone], 'erased');
}

async function applyOne(tx: Transaction<Tables>, school: string, one: Numbered): Promise<void> {
  switch (one.event.what.kind) {
    case 'walk-begun':
      return begin(tx, school, one.event);
    case 'sound-kept':
      return named(tx, school, one.event);
    case 'picture-kept':
      return namedPicture(tx, school, one);
    case 'picture-erased':
      return tellErased(tx, school, one);
    case 'squawk':
      return showWith(tx, school, one);
  }
}

function read(row: NewEvent): Event | null {
  const parsed = Event.safeParse(JSON.parse(row.text));
  return parsed.success ? parsed.data : null;
}

/** The time of an event whose other fields do not matter here. */
function timeIn(text: string): number {
  const at = /"at":(\d{1,15})/.exec(text)?.[1];
  return at === undefined ? 0 : Number(at);
}

function changeOf(event: Event | null): Change {
  switch (event?.what.kind) {
    case 'station-set':
      return { station: event.what.station };
    case 'finished':
      return { finished: true };
    case 'signed':
      return { signed: true };
    default:
      return {};
  }
}

async function begin(tx: Transaction<Tables>, school: string, event: Event): Promise<void> {
  const { what, walk } = event;
  if (what.kind !== 'walk-begun' || walk === null) return;
  await tx
    .insertInto('walk')
    .values({
      school,
      id: walk,
      device: event.device,
      aircraft: what.aircraft,
      catalogue: what.catalogue,
      edition: what.edition,
      pilot: what.pilot,
      instructor: what.instructor,
      pilot_id: await personNamed(tx, school, what.pilot),
      instructor_id: await personNamed(tx, school, what.instructor),
      begun: Math.round(event.at),
      last: Math.round(event.at),
      events: 0,
      station: null,
      finished: false,
      signed: false,
    })
    // Begun twice is one walk: the first beginning counts.
    .onConflict((c) => c.doNothing())
    .execute();
}

/** A piece of sound that the log names: wanted, unless the school or the person keeps none. */
async function named(tx: Transaction<Tables>, school: string, event: Event): Promise<void> {
  const { what } = event;
  if (what.kind !== 'sound-kept') return;
  const { rows } = await sql<{ keeps: boolean; silent: boolean; gone: boolean }>`
    select (s.terms->>'sound')::boolean as keeps,
      exists (select 1 from walk w join person p on p.school = w.school
        and p.id in (w.pilot_id, w.instructor_id)
        where w.school = ${school} and w.id = ${event.walk} and not p.voice) as silent,
      exists (select 1 from sound d where d.school = ${school}
        and d.recording = ${what.recording} and d.dropped = 'erased') as gone
    from school s where s.id = ${school}`.execute(tx);
  const [terms] = rows;
  const dropped =
    terms?.gone === true
      ? 'erased'
      : terms?.keeps !== true
        ? 'the school keeps no sound'
        : terms.silent
          ? 'the voice of this person is not kept'
          : null;
  await tx
    .insertInto('sound')
    .values({
      school,
      recording: what.recording,
      chunk: what.chunk,
      hash: what.hash,
      device: event.device,
      walk: event.walk,
      mime: what.mime,
      kept: null,
      bytes: null,
      dropped,
    })
    .onConflict((c) => c.doNothing())
    .execute();
}

/** @returns hashes of what was there and is now needed by nobody */
export async function dropSound(
  tx: Transaction<Tables>,
  school: string,
  recordings: readonly string[],
  why: string,
): Promise<readonly string[]> {
  if (recordings.length === 0) return [];
  const rows = await tx
    .updateTable('sound')
    .set({ dropped: why, kept: null, bytes: null })
    .where('school', '=', school)
    .where('recording', 'in', recordings)
    .where((e) => e.or([e('dropped', 'is', null), e('dropped', '!=', why)]))
    .returning('hash')
    .execute();
  const hashes = [...new Set(rows.map((row) => row.hash))];
  const drop = await keptByNobody(tx, school, hashes);
  await toDelete(tx, school, drop);
  return drop;
}
