import type { Transaction } from 'kysely';
import { Event } from '#shared/event';
import { ERASED, erasedIn } from '#shared/kept';
import type { Taken, Told } from '#shared/school';
import {
  asideRow,
  canonical,
  comparedAs,
  hashFits,
  isAside,
  linkOf,
  readJson,
  takeIn,
  MAX_EVENT_BYTES,
  type Known,
  type Link,
  type Raw,
} from '#store/pure';
import type { Clock } from './clock.ts';
import type { Database } from './database.ts';
import { mayWrite, type Caller } from './roles.ts';
import { applyRows } from './apply.ts';
import { maySee } from './sight.ts';
import type { NewEvent, Tables } from './tables.ts';
import { rowsAround, windowOn } from './window.ts';

/** An event that arrived, with its text as it is kept. */
interface Arrived extends Link {
  readonly raw: Raw;
  readonly text: string;
}

/** Events in one upload at most: what a phone says in about ten minutes. */
export const MOST_EVENTS = 500;

/** What became of an upload, for the answer and for those who wait for news. */
export interface Intake {
  readonly taken: Taken;
  /** Hashes of bytes that are not to be kept any longer. */
  readonly drop: readonly string[];
  readonly seq: number;
}

/**
 * Takes events of a device into the school's log: the union, by hash. The same
 * upload twice is the same as once. What does not verify is not taken, what its
 * writer may not write is kept aside, and both are told and kept for the desk.
 *
 * @param lines events as they were written, JSON, one each, in the order of their chain
 */
export async function takeEvents(
  { sql: db }: Database,
  clock: Clock,
  caller: Caller,
  lines: readonly string[],
): Promise<Intake> {
  const { read, refused } = readLines(lines, caller.device);
  return db.transaction().execute(async (tx) => {
    // One upload of a school at a time: numbers are given in the order in which they become visible.
    const school = await tx
      .selectFrom('school')
      .where('id', '=', caller.school)
      .select(['seq', 'device', 'public_key'])
      .forUpdate()
      .executeTakeFirstOrThrow();
    const known = await hashesHere(tx, caller.school, read);
    const arrived = read.filter((e) => !known.has(e.hash));
    const again = await asideBefore(tx, caller, arrived);
    const fresh = [...again.filter((e) => !read.some((r) => r.hash === e.hash)), ...arrived];
    const isAgain = new Set(again.map((e) => e.hash));
    const byRole = await notAllowed(tx, caller, fresh);
    const around = (await rowsAround(tx, caller.school, caller.device, fresh)).filter(
      (row) => !isAgain.has(row.hash),
    );
    const asideNow = fresh.filter((e) => byRole.has(e.hash));
    const window = windowOn(
      around,
      asideNow.map((e) => asideRow(e, e.text)),
    );
    const { merged } = await takeIn(
      window.shelf,
      school.device,
      await knownKeys(tx, caller.school, school),
      fresh.filter((e) => !byRole.has(e.hash)).map((e) => e.raw),
    );

    const why = new Map(byRole);
    const asides = window.taken.filter(isAside);
    asides.forEach((row, i) =>
      why.set(row.hash, merged.aside[i]?.why ?? 'It does not belong here.'),
    );
    const takenNow = new Set([...window.taken.map((r) => r.hash), ...byRole.keys()]);
    const rows: NewEvent[] = [];
    let seq = school.seq;
    let within = caller.walk;
    for (const e of fresh) {
      if (e.walk !== null) within = e.walk;
      // What stays aside stays where it is.
      if (!takenNow.has(e.hash) || (isAgain.has(e.hash) && why.has(e.hash))) continue;
      seq += 1;
      rows.push({
        school: caller.school,
        seq,
        hash: e.hash,
        id: e.id,
        device: e.device,
        walk: e.walk,
        within: e.walk === null ? within : null,
        aircraft: e.aircraft,
        kind: e.kind,
        prev: e.prev,
        text: e.text,
        arrived: clock.now(),
        aside: why.get(e.hash) ?? null,
      });
    }
    if (rows.length > 0)
      await tx
        .insertInto('event')
        .values(rows)
        // Aside before, and counted now that what it hangs on has come.
        .onConflict((c) =>
          c.columns(['school', 'hash']).doUpdateSet((e) => ({
            seq: e.ref('excluded.seq'),
            within: e.ref('excluded.within'),
            aside: e.ref('excluded.aside'),
          })),
        )
        .execute();
    const counted = rows.filter((row) => row.aside === null);
    const drop = await applyRows(tx, caller.school, counted);
    const told: Told[] = [
      ...refused,
      ...merged.refused.map((r) => ({ ...r, walk: walkOf(read, r.event) })),
    ];
    const aside: Told[] = rows.flatMap((row) =>
      typeof row.aside !== 'string'
        ? []
        : [{ event: row.id, walk: row.walk ?? null, why: row.aside }],
    );
    await keepRefusals(tx, clock, caller, [...told, ...aside]);
    const head = read.at(-1)?.hash ?? null;
    await tx.updateTable('school').set({ seq }).where('id', '=', caller.school).execute();
    if (head !== null)
      await tx
        .updateTable('device')
        .set((e) => ({
          head,
          walk: within,
          seen: clock.now(),
          events: e('events', '+', rows.length),
        }))
        .where('school', '=', caller.school)
        .where('id', '=', caller.device)
        .execute();
    return {
      taken: { head, added: counted.length, known: known.size, refused: told, aside },
      drop,
      seq,
    };
  });
}

/** Looks at each line by itself. A device brings its own events and nobody else's. */
function readLines(lines: readonly string[], device: string) {
  const read: Arrived[] = [];
  const refused: Told[] = [];
  const seen = new Set<string>();
  lines.forEach((line, index) => {
    const json = readJson(line, MAX_EVENT_BYTES);
    const link = json.ok ? linkOf(json.value) : null;
    const refuse = (why: string) =>
      refused.push({ event: link?.id ?? `number ${index + 1}`, walk: link?.walk ?? null, why });
    if (!json.ok) return void refuse(json.error);
    if (link === null)
      return void refuse('It is not an event: the fields of the chain are missing.');
    if (link.device !== device)
      return void refuse('It claims to come from another device than the one that brings it.');
    const raw = json.value as Raw;
    if (!hashFits(raw, link.hash))
      return void refuse('It was changed after it was written: its hash does not match.');
    if (seen.has(link.hash)) return;
    seen.add(link.hash);
    read.push({ ...link, raw, text: canonical(raw) });
  });
  return { read, refused };
}

/**
 * Events of these walks that were put aside, such as those that came before the
 * beginning: they are judged again with what has come now.
 */
async function asideBefore(
  tx: Transaction<Tables>,
  caller: Caller,
  arrived: readonly Link[],
): Promise<readonly Arrived[]> {
  const walks = [...new Set(arrived.flatMap((e) => (e.walk === null ? [] : [e.walk])))];
  if (walks.length === 0) return [];
  const rows = await tx
    .selectFrom('event')
    .where('school', '=', caller.school)
    .where('device', '=', caller.device)
    .where('walk', 'in', walks)
    .where('aside', 'is not', null)
    .select('text')
    .orderBy('seq')
    .execute();
  return rows.flatMap(({ text }) => {
    const raw = JSON.parse(text) as Raw;
    const link = linkOf(raw);
    return link === null ? [] : [{ ...link, raw, text }];
  });
}

/** Of these, those that count already. */
async function hashesHere(
  tx: Transaction<Tables>,
  school: string,
  events: readonly Link[],
): Promise<ReadonlySet<string>> {
  if (events.length === 0) return new Set();
  const rows = await tx
    .selectFrom('event')
    .where('school', '=', school)
    .where(
      'hash',
      'in',
      events.map((e) => e.hash),
    )
    .select(['hash', 'aside', 'walk'])
    .execute();
  // What is aside of a walk is looked at again.
  return new Set(rows.filter((r) => r.aside === null || r.walk === null).map((r) => r.hash));
}

/** Every device's own key, as it joined: the school has met them all. */
async function knownKeys(
  tx: Transaction<Tables>,
  school: string,
  own: { readonly device: string; readonly public_key: string },
): Promise<Known> {
  const rows = await tx
    .selectFrom('device')
    .where('school', '=', school)
    .select(['id', 'public_key'])
    .execute();
  return {
    own: { device: own.device, keys: new Set([own.public_key]) },
    keys: new Map(rows.map((row) => [row.id, [row.public_key]])),
    compared: new Set(rows.map((row) => comparedAs(row.id, row.public_key))),
  };
}

/** Events that their writer's role does not allow, by hash, with the reason. */
async function notAllowed(
  tx: Transaction<Tables>,
  caller: Caller,
  fresh: readonly Arrived[],
): Promise<ReadonlyMap<string, string>> {
  const why = new Map<string, string>();
  const began = new Set(fresh.flatMap((e) => (e.kind === 'walk-begun' ? [e.walk] : [])));
  const walks = [...new Set(fresh.flatMap((e) => (e.walk === null ? [] : [e.walk])))];
  const here =
    walks.length === 0
      ? []
      : await tx
          .selectFrom('walk as w')
          .where('w.school', '=', caller.school)
          .where('w.id', 'in', walks)
          .select(['w.id', 'w.device', maySee(caller).as('open'), 'w.pilot_id'])
          .execute();
  for (const e of fresh) {
    const walk = here.find((w) => w.id === e.walk);
    const own = began.has(e.walk) || walk?.device === caller.device;
    const parsed = STEPPED.has(e.kind) ? Event.safeParse(e.raw) : null;
    const what = parsed?.success === true ? parsed.data.what : null;
    const erased = what === null ? null : erasedIn(what);
    const no = mayWrite(caller, {
      kind: e.kind,
      step: what?.kind === 'squawk' ? what.step.step : null,
      walk: e.walk === null ? null : { own, open: walk?.open ?? own },
      ownSound: erased !== null && (await isOwnSound(tx, caller, erased, own ? e.walk : null)),
    });
    if (no !== null) why.set(e.hash, no);
  }
  return why;
}

const STEPPED: ReadonlySet<string> = new Set(['squawk', ...ERASED]);

async function isOwnSound(
  tx: Transaction<Tables>,
  caller: Caller,
  recording: string,
  /** The caller's own walk in which it is said; a walk of one's own says nothing of another's sound. */
  ownWalk: string | null,
): Promise<boolean> {
  const rows = await tx
    .selectFrom('sound')
    .leftJoin('walk', (join) =>
      join.onRef('walk.school', '=', 'sound.school').onRef('walk.id', '=', 'sound.walk'),
    )
    .where('sound.school', '=', caller.school)
    .where('sound.recording', '=', recording)
    .select(['sound.device', 'sound.walk', 'walk.pilot_id'])
    .execute();
  // Every piece of it: another may have named one more.
  return rows.every(
    (row) =>
      (ownWalk !== null && row.walk === ownWalk) ||
      row.device === caller.device ||
      (caller.person !== null && row.pilot_id === caller.person),
  );
}

function walkOf(read: readonly Link[], event: string): string | null {
  const named = /^walk (.+)$/.exec(event)?.[1];
  return named ?? read.find((e) => e.id === event)?.walk ?? null;
}

/** Kept for the desk: the same reason for the same event once. */
async function keepRefusals(
  tx: Transaction<Tables>,
  clock: Clock,
  caller: Caller,
  told: readonly Told[],
): Promise<void> {
  if (told.length === 0) return;
  await tx
    .insertInto('refusal')
    .values(
      told.map(({ event, walk, why }) => ({
        school: caller.school,
        id: clock.id(),
        at: clock.now(),
        device: caller.device,
        event,
        walk,
        why,
      })),
    )
    .onConflict((c) => c.doNothing())
    .execute();
}
