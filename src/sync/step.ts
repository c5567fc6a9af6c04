import type { Hello, PieceName, Told } from '#shared/school';
import { SchoolSaidNo, type InSchool } from './api.ts';
import { bringPictures, sendPieces } from './pieces.ts';

/** What a round needs of the record. */
export interface SyncStore {
  ownHead(): Promise<string | null>;
  ownLog(after: string | null): Promise<readonly string[]>;
  merge(events: readonly unknown[]): Promise<{
    readonly added: number;
    readonly refused: readonly { readonly event: string; readonly why: string }[];
    /** Known devices that seal with a new key, one sentence each: the school is believed no more than a file. */
    readonly rekeyed: readonly string[];
  }>;
  takeLoose(texts: readonly string[]): Promise<{ readonly refused: number }>;
  editions(): Promise<readonly string[]>;
  catalogue(edition: string): Promise<unknown>;
  /** Keeps an edition that came; refuses one that is not what its hash says. */
  keepEdition(edition: string, catalogue: unknown): Promise<void>;
  /** Bytes of a piece of sound or of a picture; null: they are not here. */
  bytes(name: PieceName): Promise<Uint8Array | null>;
  /** Pictures that belong here and are not, those of open squawks. */
  missingPictures(): Promise<readonly { readonly picture: string; readonly hash: string }[]>;
  /** Keeps a picture that came; false: the log does not name it by its hash. */
  takePicture(picture: string, bytes: Uint8Array): Promise<boolean>;
}

/** How far things have come between this device and its school, to be kept. */
export interface Progress {
  readonly cursor: string | null;
  /** What the school did not take of ours, what we did not take of what it sent, and new keys; the latest. */
  readonly told: readonly Told[];
}

/** Events in one upload, and characters: small, so that a poor network brings them through one by one. */
const AT_ONCE = 200;
const CHARACTERS = 500_000;
/** How many of what was told are kept. */
const TOLD = 50;

/**
 * One round: what this device has goes up, events first; what concerns it comes
 * down; then pictures and sound. Whatever breaks off is begun again by the next round, and
 * nothing is done twice by it.
 *
 * @param busy while a walk is recorded only words go up: the phone has other things to do
 */
export async function syncRound(
  store: SyncStore,
  school: InSchool,
  before: Progress,
  hooks: {
    readonly busy: () => Promise<boolean>;
    readonly onHello: (hello: Hello) => Promise<void>;
    readonly onProgress: (progress: Progress) => Promise<void>;
    /** Pictures came. */
    readonly onPictures: () => Promise<void>;
  },
): Promise<Progress> {
  let progress = before;
  async function keep(part: Partial<Progress>): Promise<void> {
    progress = { ...progress, ...part };
    await hooks.onProgress(progress);
  }
  const tell = (told: readonly Told[]) =>
    told.length === 0 ? Promise.resolve() : keep({ told: merged(told, progress.told) });

  const hello = await school.hello(await store.editions());
  await hooks.onHello(hello);
  await sendEvents(store, school, hello.head, tell);
  await sendEditions(store, school, await lacking(school, hello, store));
  if (await hooks.busy()) return progress;
  for (let more = true; more;) {
    const page = await school.feed(progress.cursor);
    const whole = page.events.filter((e) => !e.loose).map((e): unknown => JSON.parse(e.text));
    const loose = page.events.filter((e) => e.loose).map((e) => e.text);
    // Editions first, so that a walk can be opened as soon as it is seen.
    await fetchEditions(store, school, editionsIn(whole));
    if (whole.length > 0) {
      const { refused, rekeyed } = await store.merge(whole);
      await tell(rekeyed.map((why) => ({ event: '', walk: null, why })));
      await tell(
        refused.map(({ event, why }) => ({ event, walk: null, why: `From the school: ${why}` })),
      );
    }
    if (loose.length > 0) await store.takeLoose(loose);
    await keep({ cursor: page.cursor });
    more = page.more;
  }
  const current = hello.editions.filter((e) => e.current).map((e) => e.edition);
  await fetchEditions(store, school, current);
  try {
    const why = await sendPieces(store, school, hooks.busy);
    await tell(why.map((one) => ({ event: '', walk: null, why: one })));
    const came = await bringPictures(store, school, hooks.busy);
    if (came > 0) await hooks.onPictures();
  } catch (error) {
    // Where the school keeps them is away: no reason to let words wait.
    if (!(error instanceof SchoolSaidNo && error.status === 503)) throw error;
    await tell([{ event: '', walk: null, why: error.message }]);
  }
  return progress;
}

async function sendEvents(
  store: SyncStore,
  school: InSchool,
  head: string | null,
  tell: (told: readonly Told[]) => Promise<void>,
): Promise<void> {
  if ((await store.ownHead()) === head) return;
  const log = await store.ownLog(head);
  for (let from = 0; from < log.length;) {
    let to = from;
    let size = 0;
    while (to < log.length && to - from < AT_ONCE) {
      size += log[to]?.length ?? 0;
      if (to > from && size > CHARACTERS) break;
      to += 1;
    }
    const taken = await school.events(log.slice(from, to));
    await tell([...taken.refused, ...taken.aside]);
    from = to;
  }
}

/** After the events, because by them the school knows which it lacks. */
async function lacking(
  school: InSchool,
  hello: Hello,
  store: SyncStore,
): Promise<readonly string[]> {
  if (hello.lacks.length > 0) return hello.lacks;
  const head = await store.ownHead();
  return head === hello.head ? [] : (await school.hello(await store.editions())).lacks;
}

async function sendEditions(
  store: SyncStore,
  school: InSchool,
  editions: readonly string[],
): Promise<void> {
  for (const edition of editions) {
    const catalogue = await store.catalogue(edition);
    if (catalogue !== null) await school.giveEdition(JSON.stringify(catalogue), false);
  }
}

async function fetchEditions(
  store: SyncStore,
  school: InSchool,
  editions: readonly string[],
): Promise<void> {
  if (editions.length === 0) return;
  const here = new Set(await store.editions());
  for (const edition of editions.filter((e) => !here.has(e))) {
    try {
      await store.keepEdition(edition, await school.edition(edition));
    } catch (error) {
      // A walk may come before its catalogue: the next round asks again.
      if (!(error instanceof SchoolSaidNo && error.status === 404)) throw error;
    }
  }
}

function editionsIn(events: readonly unknown[]): readonly string[] {
  return events.flatMap((event) => {
    if (typeof event !== 'object' || event === null || !('what' in event)) return [];
    const { what } = event;
    if (typeof what !== 'object' || what === null) return [];
    const edition: unknown = Reflect.get(what, 'edition');
    return Reflect.get(what, 'kind') === 'walk-begun' && typeof edition === 'string'
      ? [edition]
      : [];
  });
}

function merged(fresh: readonly Told[], old: readonly Told[]): readonly Told[] {
  const key = (t: Told) => `${t.event} ${t.why}`;
  const news = new Set(fresh.map(key));
  return [...fresh, ...old.filter((t) => !news.has(key(t)))].slice(0, TOLD);
}
