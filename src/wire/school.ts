import { z } from 'zod';
import type { CodeView, SchoolServices, SchoolView } from '#screens';
import { Hello, Told } from '#shared/school';
import type { Event } from '#shared/event';
import type { World } from '#shared/log';
import type { Catalogue } from '#shared/catalogue';
import { PICTURE_CHUNK } from '#shared/kept';
import type { Store } from '#store';
import { sha256Hex } from '#store/pure';
import {
  keepGoing,
  readNews,
  schoolApi,
  syncRound,
  type InSchool,
  type Progress,
  type SyncStore,
} from '#sync';
import { liveValue } from './live-value.ts';
import { bytesFor } from './school-bytes.ts';
import { offeredPhrases, type OfferParts } from './offered.ts';
import { asked, done } from './outcome.ts';
import { peopleOfSchool, type BrowserPasskeys } from './school-people.ts';

/** What the house gives to a school, and has done to it. */
export interface SchoolInside {
  readonly store: Store;
  readonly world: World;
  readonly phrases: OfferParts['phrases'];
  /** Walks are begun with this edition from now on. */
  takeOn(edition: string): Promise<void>;
  catalogue(id: string): Catalogue;
  /** The walk of this page is finished; signing it may take a day. */
  finished(): boolean;
  /** Something came from the school. */
  came(): Promise<void>;
  /** Who holds this device, where nobody was named yet. */
  holder(name: string): void;
}

/** What it needs of the platform. */
export interface SchoolOutside {
  /** Address of the page, without what stands behind the #. */
  readonly page: string;
  readonly fetch: typeof fetch;
  nonce(): string;
  wait(ms: number, then: () => void): () => void;
  chance(): number;
  /** Runs when the network may be there again, or the page is looked at again. */
  onBack(run: () => void): void;
  draw(text: string): Promise<string>;
  /** Null where the browser has none, or not on this page. */
  readonly passkeys: BrowserPasskeys | null;
  /** What this device calls itself where nobody named it. */
  readonly name: string;
}

const KEY = 'school';
const Kept = z.object({
  school: z.string(),
  cursor: z.string().nullable(),
  told: z.array(Told),
  hello: Hello.nullable(),
});
type Kept = z.infer<typeof Kept>;

/** How many of what was told are kept. */
const TOLD = 50;
/** Milliseconds until a stream of news that ended is opened again. */
const LIVE_AGAIN = 5_000;
/** How often a desk that waits asks whether it was let in, milliseconds. */
const ASK_AGAIN = 1_500;
/** How long opening a walk waits for its pictures and its sound, milliseconds; the rest comes behind. */
const SOUND_FIRST = 4_000;

/** `passkeys`: whether they hold at this address; a server of before does not say. */
const About = z.object({
  school: z.string(),
  name: z.string(),
  passkeys: z.boolean().default(false),
});

/** This device and its school. The record works the same without one. */
export async function schoolOf(
  inside: SchoolInside,
  outside: SchoolOutside,
): Promise<SchoolServices & { bringBytes(events: readonly Event[]): Promise<void> }> {
  const { store, world } = inside;
  const ways = syncStore(store);
  const api = schoolApi({
    base: new URL('school/', outside.page).href,
    device: store.device,
    fetch: outside.fetch,
    now: () => world.now(),
    nonce: outside.nonce,
    sha256: sha256Hex,
    prove: (proof) => store.prove(proof),
  });
  const read = Kept.safeParse(await store.setting(KEY));
  let kept: Kept | null = read.success ? read.data : null;
  const view = liveValue<SchoolView>({
    about: null,
    hello: kept?.hello ?? null,
    sync: { state: 'resting' },
    told: kept?.told ?? [],
    news: 0,
    offers: [],
  });
  const offers = offeredPhrases({ store, phrases: inside.phrases, now: () => world.now() });
  let streaming: AbortController | null = null;
  /** The list of aircraft as it was told to the house last. */
  let fleet = '[]';

  async function keep(part: Partial<Kept>): Promise<void> {
    if (kept === null) return;
    kept = { ...kept, ...part };
    await store.setSetting(KEY, kept);
  }

  const here = (): InSchool => {
    if (kept === null) throw new Error('This device is in no school: join it with a code.');
    return api.in(kept.school);
  };

  const going = keepGoing({
    async round() {
      if (kept === null) return;
      // A walk that is finished and not signed yet is no reason to wait.
      const busy = async () => !inside.finished() && (await store.recording());
      const before: Progress = { cursor: kept.cursor, told: kept.told };
      const after = await syncRound(ways, here(), before, {
        busy,
        onHello: async (hello) => {
          view.patch({ hello });
          await keep({ hello });
        },
        onProgress: async ({ cursor, told }) => {
          view.patch({ told });
          await keep({ cursor, told: [...told] });
        },
        onPictures: async () => {
          await inside.came();
          view.patch({ news: view.get().news + 1 });
        },
      });
      const mark = (await busy()) ? '' : (view.get().hello?.phrases ?? '');
      const erased = await offers.ask(here(), mark);
      if (erased.length > 0) {
        const told = [
          ...erased.map((why) => ({ event: '', walk: null, why })),
          ...view.get().told,
        ].slice(0, TOLD);
        view.patch({ told });
        await keep({ told });
      }
      await offered();
      const own = new Set(await editionsTaken(store));
      for (const { edition, current } of view.get().hello?.editions ?? [])
        if (current && !own.has(edition) && (await store.catalogue(edition)) !== null)
          await inside.takeOn(edition);
      const list = JSON.stringify(view.get().hello?.aircraft ?? []);
      if (after.cursor !== before.cursor || list !== fleet) {
        fleet = list;
        // Steps of squawks that came without their walks are told by nobody else.
        await inside.came();
        view.patch({ news: view.get().news + 1 });
      }
      if (streaming === null) void stream();
    },
    onState: (sync) => view.patch({ sync }),
    wait: outside.wait,
    chance: outside.chance,
  });

  async function offered(): Promise<void> {
    const now = await offers.offers();
    if (JSON.stringify(now) !== JSON.stringify(view.get().offers)) view.patch({ offers: now });
  }

  /** News as they come, as long as the school has this device. */
  async function stream(): Promise<void> {
    streaming = new AbortController();
    try {
      const response = await here().live(streaming.signal);
      if (response.body !== null)
        await readNews(response.body, () => {
          view.patch({ news: view.get().news + 1 });
          going.soon();
        });
    } catch {
      // The rounds say what is wrong, and begin it again.
    }
    streaming = null;
    if (kept !== null && view.get().sync.state === 'resting')
      outside.wait(LIVE_AGAIN, () => {
        if (streaming === null && view.get().sync.state === 'resting') void stream();
      });
  }

  async function isIn(school: string): Promise<void> {
    kept = { school, cursor: null, told: [], hello: null };
    await store.setSetting(KEY, kept);
    await going.now();
    const person = view.get().hello?.person;
    if (person !== null && person !== undefined) inside.holder(person.name);
  }

  async function codeView(path: string, code: string, expires: number): Promise<CodeView> {
    const link = `${outside.page}#/${path}/${code}`;
    return { code, link, drawn: await outside.draw(link), expires };
  }

  async function aboutHere(): Promise<void> {
    try {
      const response = await outside.fetch(new URL('school/about', outside.page), {
        cache: 'no-store',
      });
      const about = About.safeParse(response.ok ? await response.json() : null);
      if (about.success) {
        const passkeys = about.data.passkeys && outside.passkeys !== null;
        view.patch({ about: { ...about.data, passkeys } });
      }
    } catch {
      // No network, or a server that keeps no school.
    }
  }

  store.subscribe(({ events }) => {
    if (events.some((e) => e.device === store.device)) going.soon();
  });
  outside.onBack(() => {
    if (kept !== null) going.soon(0);
  });
  if (kept !== null) {
    await offered();
    going.soon(0);
  }

  async function aboutOr(): Promise<string> {
    await aboutHere();
    const { about } = view.get();
    if (about === null) throw new Error('The school cannot be reached from this page.');
    return about.school;
  }

  return {
    view,
    ...peopleOfSchool({
      store,
      api,
      offers,
      here,
      isIn,
      offered,
      passkeys: outside.passkeys,
      name: outside.name,
      about: aboutOr,
      again: () => going.now(),
    }),
    look: aboutHere,
    invited: (code) => asked(async () => api.invited(code, await store.publicKey())),
    join: (code, invited, name) =>
      done(async () => {
        const publicKey = await store.publicKey();
        const { terms } = invited;
        const { school } = await api.join({ code, device: store.device, publicKey, name, terms });
        await store.nameDevice(name);
        await isIn(school);
      }),
    askIn: () =>
      asked(async () => {
        const school = await aboutOr();
        const name = outside.name;
        const { code, expires } = await api.askIn(school, await store.publicKey(), name);
        void untilIn(school, expires);
        return codeView('let', code, expires);
      }),
    letDeskIn: (code) => asked(() => here().letDeskIn(code)),
    leave: () =>
      done(async () => {
        // Whom the school has put out already, it lets go without being asked.
        const { hello, sync } = view.get();
        if (hello?.until !== null && sync.state !== 'out') await here().leaveDesk();
        kept = null;
        streaming?.abort();
        await store.setSetting(KEY, null);
        await offers.forget();
        view.patch({ hello: null, told: [], offers: [], sync: { state: 'resting' } });
        await inside.came();
      }),
    sync: () => going.now(),
    walks: (before) => asked(() => here().walks(before)),
    people: () => asked(() => here().people()),
    addPerson: (name, roles) => done(() => here().addPerson(name, roles)),
    changePerson: (id, change) => done(() => here().changePerson(id, change)),
    eraseSoundOf: (id) =>
      asked(async () => {
        const { recordings, pictures } = await here().eraseSoundOf(id);
        return { recordings: recordings + pictures };
      }),
    devices: () => asked(() => here().devices()),
    shutOut: (device) => done(() => here().shutOut(device)),
    invite: (person) =>
      asked(async () => {
        const { code, expires } = await here().invite(person);
        return codeView('join', code, expires);
      }),
    setTerms: (terms) =>
      done(async () => {
        await here().setTerms(terms);
        await going.now();
      }),
    publish: (id) =>
      asked(async () => {
        const edition = await here().giveEdition(JSON.stringify(inside.catalogue(id)), true);
        await going.now();
        return edition;
      }),
    async bringBytes(events) {
      if (kept === null) return;
      const all = fetchPictures(events).then(() => fetchSound(events));
      await Promise.race([
        all.catch(() => undefined),
        new Promise<void>((resolve) => outside.wait(SOUND_FIRST, resolve)),
      ]);
    },
  };

  async function untilIn(school: string, expires: number): Promise<void> {
    while (kept === null && world.now() < expires) {
      await new Promise<void>((resolve) => outside.wait(ASK_AGAIN, resolve));
      try {
        await api.in(school).hello([]);
      } catch {
        continue;
      }
      if (kept === null) await isIn(school);
    }
  }

  /** Before the sound: there are fewer, and each is looked at. */
  async function fetchPictures(events: readonly Event[]): Promise<void> {
    for (const { what } of events) {
      if (what.kind !== 'picture-kept') continue;
      const { picture, hash } = what;
      if ((await store.picture(picture, hash)).state !== 'gone') continue;
      // One that has not come yet, or was erased, keeps nothing else back.
      const bytes = await here()
        .picture(hash)
        .catch(() => null);
      if (bytes !== null) await store.takeSound(picture, PICTURE_CHUNK, bytes);
    }
  }

  async function fetchSound(events: readonly Event[]): Promise<void> {
    for (const event of events) {
      const { what } = event;
      if (what.kind !== 'sound-kept') continue;
      const { recording, chunk, hash } = what;
      const there = await store.sound(recording, [event]);
      if (there.erased !== null || there.chunks.some((c) => c.chunk === chunk)) continue;
      await store.takeSound(recording, chunk, await here().sound(hash));
    }
  }
}

async function editionsTaken(store: Store): Promise<readonly string[]> {
  const own = await store.setting('own-catalogues');
  return Array.isArray(own) ? own.filter((e): e is string => typeof e === 'string') : [];
}

function syncStore(store: Store): SyncStore {
  return {
    ownHead: () => store.ownHead(),
    ownLog: (after) => store.ownLog(after),
    merge: (events) => store.merge(events),
    takeLoose: (texts) => store.takeLoose(texts),
    editions: () => store.editions(),
    catalogue: (edition) => store.catalogue(edition),
    // The store refuses what is not the edition that its hash says.
    keepEdition: (edition, catalogue) => store.keepCatalogue(edition, catalogue as Catalogue),
    ...bytesFor(store),
  };
}
