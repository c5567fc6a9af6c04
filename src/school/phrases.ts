import { type Transaction } from 'kysely';
import { Event } from '#shared/event';
import { Instant } from '#shared/instant';
import { Learned } from '#shared/phrasebook';
import type { PhrasePage } from '#shared/school-people';
import type { Clock } from './clock.ts';
import { cursorIn } from './cursor.ts';
import type { Database } from './database.ts';
import { personNamed } from './people.ts';
import type { Caller } from './roles.ts';
import type { NewEvent, Tables } from './tables.ts';

/** Tellings of one page: some hundred are a season of one aircraft. */
const PAGE = 500;

/** Takes what events that count teach and forget into the list that is passed on. */
export async function applyPhrases(
  tx: Transaction<Tables>,
  school: string,
  rows: readonly NewEvent[],
): Promise<void> {
  for (const row of rows) {
    if (row.kind !== 'learned' && row.kind !== 'unlearned') continue;
    const read = Event.safeParse(JSON.parse(row.text));
    if (!read.success || row.text.includes('\\u0000')) continue;
    const { what, at, aircraft } = read.data;
    if (what.kind === 'learned' && aircraft !== null) {
      const { id, speaker } = what.learned;
      await tx
        .insertInto('phrase')
        .values({
          school,
          id,
          seq: row.seq,
          aircraft,
          speaker,
          person: await personNamed(tx, school, speaker),
          device: row.device,
          text: JSON.stringify({ at, ...what.learned }),
          forgotten: null,
          erased: null,
        })
        // The same telling in a second log is the same; one that was erased stays erased.
        .onConflict((c) => c.doNothing())
        .execute();
    }
    if (what.kind === 'unlearned')
      await tx
        .updateTable('phrase')
        .set({ forgotten: what.undone === true ? null : Math.round(at), seq: row.seq })
        .where('school', '=', school)
        .where('id', '=', what.learned)
        .where('erased', 'is', null)
        // Forgotten by whoever told it: what others do not want, they do not take.
        .where((e) =>
          e.or([
            e('device', '=', row.device),
            e(
              'person',
              '=',
              e
                .selectFrom('device')
                .where('device.school', '=', school)
                .where('device.id', '=', row.device)
                .select('device.person'),
            ),
          ]),
        )
        .execute();
  }
}

/** Where asking for phrases would end now. */
export async function phrasesMark({ sql: db }: Database, school: string): Promise<string> {
  const row = await db
    .selectFrom('school as s')
    .where('s.id', '=', school)
    .select((e) => [
      's.epoch',
      e
        .selectFrom('phrase as p')
        .where('p.school', '=', school)
        .select((p) => p.fn.max('p.seq').as('seq'))
        .as('seq'),
    ])
    .executeTakeFirstOrThrow();
  return `${row.epoch}.${Number(row.seq ?? 0)}`;
}

const Kept = Learned.extend({ at: Instant });

/**
 * What was learned elsewhere in the school, as far as the terms let this caller
 * have it: their own; or everything of aircraft that they may walk. An offer: the
 * device takes nothing of it without a yes, as from a file.
 */
export async function phrasesFor(
  database: Database,
  caller: Caller,
  after: string | null,
): Promise<PhrasePage> {
  const { sql: db } = database;
  const mark = await phrasesMark(database, caller.school);
  const { terms, epoch } = await db
    .selectFrom('school')
    .where('id', '=', caller.school)
    .select(['terms', 'epoch'])
    .executeTakeFirstOrThrow();
  const from = cursorIn(after, epoch);
  const walks = caller.roles.has('pilot') || caller.roles.has('instructor');
  const rows = await db
    .selectFrom('phrase as p')
    .leftJoin('person as who', (join) =>
      join.onRef('who.school', '=', 'p.school').onRef('who.id', '=', 'p.person'),
    )
    .where('p.school', '=', caller.school)
    .where('p.seq', '>', from)
    .where((e) =>
      e.or([
        e('p.erased', 'is not', null),
        ...(!walks || terms.phrases === 'none'
          ? []
          : [
              e.and([
                // Who has left takes with them what they taught.
                e('who.gone', 'is', null),
                // One's own telling comes back only when it was forgotten elsewhere.
                e.or([e('p.device', '!=', caller.device), e('p.forgotten', 'is not', null)]),
                ...(terms.phrases === 'aircraft'
                  ? []
                  : [e.or([e('p.speaker', 'is', null), e('p.person', '=', caller.person ?? '')])]),
              ]),
            ]),
      ]),
    )
    .select(['p.id', 'p.seq', 'p.aircraft', 'p.text', 'p.forgotten', 'p.erased'])
    .orderBy('p.seq')
    .orderBy('p.id')
    .limit(PAGE + 1)
    .execute();
  const more = rows.length > PAGE;
  const page = rows.slice(0, PAGE);
  return {
    phrases: page.flatMap(({ aircraft, text, forgotten }) => {
      const learned = Kept.safeParse(text === null ? null : JSON.parse(text));
      return learned.success ? [{ aircraft, learned: learned.data, forgotten }] : [];
    }),
    erased: page.flatMap((row) => (row.erased === null ? [] : [row.id])),
    anew: from === 0,
    cursor: more ? `${epoch}.${page.at(-1)?.seq ?? from}` : mark,
    more,
  };
}

/** Erases what a person taught from the list, and tells every device to forget it. The words stay in the log. */
export async function erasePhrases(
  { sql: db }: Database,
  clock: Clock,
  school: string,
  person: string,
): Promise<number> {
  return db.transaction().execute(async (tx) => {
    const { seq } = await tx
      .selectFrom('school')
      .where('id', '=', school)
      .select('seq')
      .forUpdate()
      .executeTakeFirstOrThrow();
    const own = await tx
      .selectFrom('phrase')
      .where('school', '=', school)
      .where('person', '=', person)
      .where('erased', 'is', null)
      .select('id')
      .orderBy('seq')
      .execute();
    // A number each, so that a page can end between any two of them.
    for (const [i, { id }] of own.entries())
      await tx
        .updateTable('phrase')
        .set({
          erased: clock.now(),
          seq: seq + 1 + i,
          text: null,
          speaker: null,
          person: null,
          forgotten: null,
        })
        .where('school', '=', school)
        .where('id', '=', id)
        .execute();
    if (own.length > 0)
      await tx
        .updateTable('school')
        .set({ seq: seq + own.length })
        .where('id', '=', school)
        .execute();
    return own.length;
  });
}
