import type { Event } from '#shared/event';
import { ERASED, erasedIn, isErasure } from '#shared/kept';
import { canonical } from './canonical.ts';
import { hashFits, hasTime, isPlain, linkOf, NO_CLOCK, NOT_PLAIN, type Raw } from './chain.ts';
import type { Merged } from './merge.ts';
import { AT_ONCE, type Pace } from './pace.ts';
import { asideRow, readRows } from './reading.ts';
import type { Row, Shelf } from './shelf.ts';
import { namesOnShelf } from './sound.ts';
import { held, type Held } from './trust/held.ts';
import { judgeWalk, type Judged, type Version } from './trust/judge.ts';
import { heldAround } from './trust/judging.ts';
import type { Known } from './trust/keys.ts';
import { poolOf, type Pool } from './trust/pool.ts';

type Refusal = Merged['refused'][number];

export interface TakeInOptions {
  /**
   * Take the events that hold of a walk that does not. Left out: a walk is
   * taken whole or not at all, because what is left of it may say the opposite
   * of what was said.
   */
  readonly salvage?: boolean;
  /** Walks of which something is wrong that the events do not show, with the reason. */
  readonly spoiled?: ReadonlyMap<string, string>;
  /** What came with the file cannot be trusted: take only walks whose seal proves them. */
  readonly sealedOnly?: string;
  /** Left out: all at once. */
  readonly pace?: Pace;
}

export interface TakenIn {
  readonly merged: Omit<Merged, 'announced' | 'rekeyed'>;
  readonly news: readonly Event[];
  readonly seals: readonly Held[];
  /** Walks that were not looked at, because somebody stopped it. */
  readonly left: number;
}

/** What is to be done with the events that arrive. */
interface Sorting {
  readonly main: Row[];
  readonly aside: Row[];
  readonly refused: Refusal[];
  readonly named: { event: string; walk: string | null; why: string }[];
  /** Ids that are taken, on the record or by what arrives with it. */
  readonly ids: Set<string>;
}

/**
 * Takes events of other devices onto the shelf, and names what it does not take.
 * Who may write what, the judge says: what belongs to a walk goes on, what does
 * not is kept aside and counts nowhere.
 */
export async function takeIn(
  shelf: Shelf,
  device: string,
  known: Known,
  events: readonly unknown[],
  options: TakeInOptions = {},
): Promise<TakenIn> {
  const pace = options.pace ?? AT_ONCE;
  const here = await shelf.rows();
  const border = await atBorder(here, events, pace);
  const { fresh, refused } = border;
  const faulty = new Map<string, string>(border.faulty);
  for (const [walk, why] of options.spoiled ?? []) if (!faulty.has(walk)) faulty.set(walk, why);

  const devices = new Set(fresh.map((e) => e.device));
  const walks = new Map<string | null, Held[]>([[null, []]]);
  for (const e of fresh) {
    const mine = walks.get(e.walk);
    if (mine === undefined) walks.set(e.walk, [e]);
    else mine.push(e);
  }
  const outside = walks.get(null) ?? [];
  walks.delete(null);
  const named = new Set([...walks.keys()].filter((walk) => walk !== null));
  const pool = poolOf([...heldAround(here, devices, named), ...fresh]);
  const ids = new Set(here.map((row) => row.id));
  const sorting: Sorting = { main: [], aside: [], refused, named: [], ids };
  let written = { main: 0, aside: 0 };
  /** One write at a time. The next walks are judged while the disk is waited for. */
  let writing: Promise<void> = Promise.resolve();
  /** What was sorted since the last time, in one transaction: a walk is on the disk whole or not at all. */
  async function write(): Promise<void> {
    await writing;
    const rows = [...sorting.main.slice(written.main), ...sorting.aside.slice(written.aside)];
    written = { main: sorting.main.length, aside: sorting.aside.length };
    if (rows.length === 0) return;
    writing = shelf.take(rows);
    // Whoever writes next, or the end, is told; until then nobody has asked.
    writing.catch(() => undefined);
  }
  let done = 0;
  for (const [walk, mine] of walks) {
    if (walk === null || pace.stopped) continue;
    takeWalk(
      sorting,
      judgeWalk(walk, pool, known),
      mine,
      device,
      faulty.get(walk) ?? null,
      options,
    );
    done += 1;
    const waiting = sorting.main.length + sorting.aside.length - written.main - written.aside;
    if (waiting >= ROWS_AT_ONCE) await write();
    await pace.turn('Restoring …', CHECKED + ((1 - CHECKED) * done) / walks.size);
  }
  if (!pace.stopped) takeOutside(sorting, outside, pool, device);
  await write();
  await writing;
  await eraseToo(shelf, device, sorting.main);
  return {
    merged: {
      added: sorting.main.length,
      known: border.known,
      refused,
      aside: sorting.named,
    },
    news: readRows(sorting.main.filter((row) => NEWS.has(row.kind))).events,
    seals: fresh.filter((e) => e.kind === 'sealed' && !refused.some((r) => r.event === e.id)),
    left: walks.size - done,
  };
}

/** Rows that are written at once: 0.3 MB, so that a press is answered and a phone has room for it. */
const ROWS_AT_ONCE = 500;
/** Part of the work that is done when every event was looked at by itself. */
const CHECKED = 0.4;
/** What others are told of: how far walks have come, squawks, and what was erased. */
const NEWS: ReadonlySet<string> = new Set([
  'walk-begun',
  'finished',
  'discarded',
  'signed',
  'sealed',
  'squawk',
  ...ERASED,
]);

const rowOf = ({ raw, ...e }: Held): Row => ({
  id: e.id,
  device: e.device,
  walk: e.walk,
  aircraft: e.aircraft,
  kind: e.kind,
  prev: e.prev,
  hash: e.hash,
  text: canonical(raw),
});

function putMain(sorting: Sorting, event: Held): void {
  if (sorting.ids.has(event.id)) return setAside(sorting, event, SAME_ID);
  sorting.ids.add(event.id);
  sorting.main.push(rowOf(event));
}

const SAME_ID = 'Another event with this id is in the log already. The one that was here is kept.';

function setAside(sorting: Sorting, event: Held, why: string): void {
  sorting.aside.push(asideRow(event, canonical(event.raw)));
  sorting.named.push({ event: event.id, walk: event.walk, why });
}

/** What arrived of one walk. */
function takeWalk(
  sorting: Sorting,
  judged: Judged,
  fresh: readonly Held[],
  device: string,
  fault: string | null,
  options: TakeInOptions,
): void {
  const { walk } = judged;
  const isFresh = new Set(fresh.map((e) => e.hash));
  const versions = [judged.version, ...judged.others].filter((v) => v !== null);
  const wrong = fault ?? troubleOf(judged, versions, isFresh, options);
  if (wrong !== null && options.salvage !== true) {
    const count = fresh.length;
    sorting.refused.push({
      event: `walk ${walk}`,
      why: `The walk was not taken (${count} ${count === 1 ? 'event' : 'events'}), because ${wrong}`,
    });
    return;
  }
  const sealBroken = new Set(
    versions.flatMap((v) => v.faults.filter((f) => f.kind === 'seal').map((f) => f.hash)),
  );
  const done = new Set<string>();
  const take = (event: Held, why: string | null) => {
    if (!isFresh.has(event.hash) || done.has(event.hash)) return;
    done.add(event.hash);
    if (sealBroken.has(event.hash))
      sorting.refused.push({ event: event.id, why: 'Its seal does not hold.' });
    else if (why === null) putMain(sorting, event);
    else setAside(sorting, event, why);
  };
  let main: Version | null = null;
  for (const v of versions) {
    const all = [...v.counts, ...v.after];
    if (main === null && mayGoOn(v, all, versions, device)) {
      main = v;
      for (const e of all) {
        take(e, null);
        // Set aside before, when nobody could tell yet that it belongs here.
        if (e.place === 'aside') putMain(sorting, e);
      }
    } else for (const e of all) take(e, e.device === device ? NOT_WRITTEN : ANOTHER_VERSION);
    for (const { event, why } of v.late) take(event, why);
  }
  for (const s of judged.beside.said)
    take(s.event, s.holds ? null : 'Its device wrote two things in one place.');
  const salvaged = options.salvage === true && main !== null;
  for (const { event, why } of judged.aside)
    take(event, salvaged && event.device === main?.device && event.device !== device ? null : why);
  // What is left are seals over what was said beside.
  for (const e of fresh) take(e, e.device === device ? NOT_WRITTEN : main === null ? ORPHAN : null);
}

const ORPHAN = 'The beginning of its walk is not here.';
const NOT_WRITTEN = 'It claims to come from this device, which has not written it.';
const ANOTHER_VERSION = 'It is another version of a walk that is here.';

/**
 * Whether a version is the walk, or goes on from what is here of it. Of a walk
 * of this very device only what its own key has sealed comes back; what a device
 * added that it let in, the judge has found to be under the key of that one.
 */
function mayGoOn(
  version: Version,
  all: readonly Held[],
  versions: readonly Version[],
  device: string,
): boolean {
  if (version.device === device && all.some((e) => e.place !== 'here' && e.device === device))
    if (version.seal?.key.standing !== 'own' || version.standing !== 'sealed') return false;
  const mine = new Set(all.map((e) => e.hash));
  return versions.every((v) => v.counts.every((e) => e.place !== 'here' || mine.has(e.hash)));
}

/** Why nothing of a walk is taken; null when it may be. Ends the sentence "The walk was not taken, because …". */
function troubleOf(
  judged: Judged,
  versions: readonly Version[],
  isFresh: ReadonlySet<string>,
  options: TakeInOptions,
): string | null {
  for (const v of versions) {
    const arrived = [...v.counts, ...v.after].some((e) => isFresh.has(e.hash));
    // What was set aside before spoils nothing that comes after it.
    const first = v.faults.find((f) => isFresh.has(f.hash));
    if (first !== undefined) return `its event ${first.event} does not hold: ${first.why}`;
    if (arrived && options.sealedOnly !== undefined && v.standing !== 'sealed')
      return options.sealedOnly;
  }
  const loose = judged.aside.find(
    ({ event }) =>
      isFresh.has(event.hash) && judged.hanging.has(event.hash) && event.kind !== 'sealed',
  );
  return loose === undefined
    ? null
    : `its event ${loose.event.id} does not hold: the event before it is missing, so that a part was taken out.`;
}

/** What belongs to no walk, such as squawks. */
function takeOutside(sorting: Sorting, fresh: readonly Held[], pool: Pool, device: string): void {
  for (const e of fresh) {
    if (e.device === device) setAside(sorting, e, NOT_WRITTEN);
    else if (pool.rivals(e).length > 0)
      setAside(sorting, e, 'Another event follows the same one: the log of its device was forked.');
    else putMain(sorting, e);
  }
}

/**
 * Who asked for the sound of a person to be erased asked it of every device: an
 * erasure that holds erases here too. A stranger's file cannot name a recording:
 * its id is known only to who was given it.
 */
async function eraseToo(shelf: Shelf, device: string, rows: readonly Row[]): Promise<void> {
  const erased = readRows(rows.filter((row) => isErasure(row.kind))).events;
  const erase = erased.map(({ what }) => erasedIn(what)).filter((id) => id !== null);
  const names = await namesOnShelf(shelf, erase);
  if (names.length > 0) await shelf.write(device, () => ({ rows: [], erase: names }));
}

/** Looks at each event by itself. */
async function atBorder(here: readonly Row[], events: readonly unknown[], pace: Pace) {
  const hashes = new Set(here.map((row) => row.hash));
  const seen = new Set<string>();
  const fresh: Held[] = [];
  const refused: Refusal[] = [];
  /** Walks with a fault, and why. */
  const faulty = new Map<string, string>();
  let known = 0;
  const look = (raw: unknown, index: number) => {
    const link = linkOf(raw);
    const refuse = (why: string) => {
      const event = link?.id ?? `number ${index + 1}`;
      refused.push({ event, why });
      const walk = link?.walk ?? null;
      if (walk !== null && !faulty.has(walk)) faulty.set(walk, `its event ${event} does not hold.`);
    };
    if (link === null) return refuse('It is not an event: the fields of the chain are missing.');
    if (!isPlain(link)) return refuse(NOT_PLAIN);
    if (!hasTime(raw as Raw)) return refuse(NO_CLOCK);
    if (!hashFits(raw as Raw, link.hash))
      return refuse('It was changed after it was written: its hash does not match.');
    if (hashes.has(link.hash)) known += 1;
    else if (!seen.has(link.hash)) {
      seen.add(link.hash);
      fresh.push(held(link, () => raw as Raw, 'new'));
    }
  };
  for (const [index, raw] of events.entries()) {
    look(raw, index);
    // Nothing is written yet: then nothing is taken at all.
    if (!(await pace.turn('Checking …', CHECKED)))
      return { fresh: [], known: 0, refused: [], faulty: new Map<string, string>() };
  }
  return { fresh, known, refused, faulty };
}
