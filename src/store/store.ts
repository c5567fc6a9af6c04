import type { Catalogue } from '#shared/catalogue';
import type { Draft, Event } from '#shared/event';
import type { World } from '#shared/log';
import { canonical, sha256Hex } from './canonical.ts';
import { editionOf, readFull } from './catalogues.ts';
import { BadDraft, chain, type Chained } from './chain.ts';
import {
  StoreTrouble,
  type News,
  type PictureToKeep,
  type SoundChunk,
  type SoundKept,
  type Store,
  type WalkSummary,
} from './contract.ts';
import { takeIn } from './take-in.ts';
import { rawOf, readRows } from './reading.ts';
import { openingsApart, squawkIn } from './openings.ts';
import type { Recorder } from './recorder.ts';
import type { Reserve } from './reserve.ts';
import { askRoom, tooTight, type Copies, type Storage } from './room.ts';
import { keyOf, makeKey, type SealKey } from './seal.ts';
import type { Announced } from './trust/announce.ts';
import { keepMet, knownFrom, metDevices, withSeals } from './trust/devices.ts';
import { finalityOf } from './trust/finality.ts';
import { judgeHere } from './trust/judging.ts';
import type { Known } from './trust/keys.ts';
import { namedWalk, readCounts, versionOf } from './trust/opened.ts';
import { sealOver, sealsItself } from './trust/sealing.ts';
import { looseMark, looseSquawks, schoolWays } from './school-ways.ts';
import { ASIDE, type Row, type Shelf, type Work } from './shelf.ts';
import {
  erasePicture,
  NO_ROOM_FOR_PICTURES,
  pictureParts,
  picturesIn,
  readPicture,
} from './picture.ts';
import { erasures, eraseSound, readSound, recordingsOf, sumSound } from './sound.ts';
import { summaries } from './summary.ts';
import { verifyEvents } from './verify.ts';

/** What a store is made of. Everything that touches the platform is passed in. */
export interface StoreParts {
  readonly shelf: Shelf;
  readonly world: World;
  readonly recorder: Recorder;
  readonly subtle: SubtleCrypto | undefined;
  readonly storage: Storage | undefined;
  /** Room taken for words; null where there is none. */
  readonly reserve: Reserve | null;
  /** How many copies are written, as it is now. */
  readonly copies?: () => Copies;
  /** To the other tabs; null where there are none. */
  readonly channel: Channel | null;
  /** Id of the device to use when the shelf is new. */
  readonly device?: string;
}

/** What is used of a BroadcastChannel. */
export interface Channel {
  send(events: readonly Event[]): void;
  listen(take: (events: readonly Event[]) => void): void;
  close(): void;
}

/** The rules of the record over a shelf. */
export async function storeOver(parts: StoreParts): Promise<Store> {
  const { shelf, world, recorder } = parts;
  const device = await shelf.noteOnce('device', parts.device ?? world.id());
  const listeners = new Set<(news: News) => void>();
  const finality = finalityOf(shelf, device);
  /** Editions that were looked at since the record was opened: each takes 20 ms to hash. */
  const looked = new Map<string, Catalogue>();
  /** Chunks are refused after this until one fits again; said once in the log. */
  let soundStopped: string | null = null;
  /** The reserve was given up for words: no sound before it is taken again. */
  let wordsOnly = false;

  /** The list of walks, until something is written. */
  let listed: Promise<readonly WalkSummary[]> | null = null;

  function tell(events: readonly Event[], own: boolean): void {
    listed = null;
    if (events.length === 0) return;
    if (own) parts.channel?.send(events);
    for (const listener of [...listeners]) listener({ events, own });
  }
  parts.channel?.listen((events) => {
    finality.note(events);
    tell(events, false);
  });

  /** When the disk is full, words get the room that was kept for them. */
  async function write(make: Make): Promise<readonly Event[]> {
    try {
      return await writeOnce(make);
    } catch (error) {
      if (!isFull(error) || wordsOnly) throw error;
      wordsOnly = true;
      if ((await parts.reserve?.release()) !== true) throw error;
      return writeOnce(make);
    }
  }

  /** Chains and writes; what else belongs to the same moment goes along. */
  async function writeOnce(make: Make): Promise<readonly Event[]> {
    let chained: readonly Chained[] = [];
    await shelf.write(device, (head) => {
      const { drafts, ...rest } = make(head);
      chained = chain(drafts, device, head);
      return { rows: chained.map(rowOf), ...rest };
    });
    const events = chained.map((c) => c.event);
    finality.note(events);
    tell(events, true);
    return events;
  }

  async function writeOne(make: (head: string | null) => Draft, rest: Omit<Work, 'rows'> = {}) {
    // Sound never gets the room that is kept for words.
    const way = rest.sounds === undefined ? write : writeOnce;
    const [event] = await way((head) => ({ drafts: [make(head)], ...rest }));
    if (event === undefined) throw new BadDraft('Nothing was written.');
    return event;
  }

  const draft = (
    what: Draft['what'],
    of: { walk: string | null; aircraft: string | null; t: number | null },
  ): Draft => ({
    v: 1,
    id: world.id(),
    walk: of.walk,
    aircraft: of.aircraft,
    at: world.now(),
    t: of.t,
    what,
  });

  async function keepSound(chunk: SoundChunk): Promise<SoundKept> {
    const bytes = chunk.data.byteLength * (parts.copies?.().count ?? 1);
    if (wordsOnly || (await tooTight(parts.storage, bytes))) return noRoom(chunk);
    const hash = sha256Hex(new Uint8Array(chunk.data));
    const { recording, place, mime } = chunk;
    try {
      const event = await writeOne(
        () =>
          draft({ kind: 'sound-kept', recording, chunk: chunk.chunk, place, mime, hash }, chunk),
        { sounds: [{ recording, chunk: chunk.chunk, place, mime, hash, data: chunk.data }] },
      );
      soundStopped = null;
      return { kept: true, event };
    } catch (error) {
      if (isFull(error)) return noRoom(chunk);
      throw error;
    }
  }

  async function keepPicture(given: PictureToKeep): Promise<Event> {
    const full = new StoreTrouble('full', NO_ROOM_FOR_PICTURES);
    const bytes = given.data.byteLength * (parts.copies?.().count ?? 1);
    if (wordsOnly || (await tooTight(parts.storage, bytes))) throw full;
    const { what, row } = pictureParts(given, sha256Hex(new Uint8Array(given.data)));
    const about = draft(what, given);
    const no = await finality.refusal([about]);
    if (no !== null) throw new StoreTrouble('refused', no);
    try {
      return await writeOne(() => about, { sounds: [row] });
    } catch (error) {
      throw isFull(error) ? full : error;
    }
  }

  /** Words go on, sound stops, and the log says from where. */
  async function noRoom(chunk: SoundChunk): Promise<SoundKept> {
    const why =
      'There is no room left for sound on this device. The walk goes on in words; free some space to record sound again.';
    if (soundStopped === chunk.recording) return { kept: false, why, event: null };
    soundStopped = chunk.recording;
    const event = await writeOne(() => draft({ kind: 'sound-missing', why }, chunk));
    return { kept: false, why, event };
  }

  async function sealKey(): Promise<SealKey> {
    const there = await shelf.note('key');
    const kept = there ?? (await shelf.noteOnce('key', await makeKey(parts.subtle)));
    // Every key that this device ever had is its own, also after it lost one.
    if (there === undefined) {
      const { publicKey } = kept;
      const mine = { device, publicKey, name: null, since: world.now(), compared: true };
      await keepMet(shelf, [...(await metDevices(shelf, device)), mine]);
    }
    return keyOf(kept, parts.subtle);
  }

  async function known(): Promise<Known> {
    const key = await shelf.note('key');
    return knownFrom(device, key?.publicKey ?? null, await metDevices(shelf, device));
  }

  /** The latest event of this device's own chain. */
  async function headNow(): Promise<string | null> {
    let head: string | null = null;
    await shelf.write(device, (now) => {
      head = now;
      return { rows: [] };
    });
    return head;
  }

  /**
   * Drafts and a seal over their walk in one write: there is no moment at which
   * a signature is on disk without its seal. The log may grow while the
   * signature is made; then it is made again.
   */
  async function appendSealed(drafts: readonly Draft[], walk: string): Promise<readonly Event[]> {
    const key = await sealKey();
    const name = await deviceName();
    for (;;) {
      const head = await headNow();
      const coming = chain(drafts, device, head);
      const over = coming.at(-1)?.event.hash ?? head;
      const seal =
        over === null
          ? null
          : await sealOver(
              { shelf, device, key, name, known: await known() },
              walk,
              coming.map(rowOf),
              over,
            );
      if (seal === null) throw new StoreTrouble('refused', `There is no walk ${walk} to seal.`);
      const mine = await shelf.latest('walk', walk);
      const aircraft = drafts[0]?.aircraft ?? mine?.aircraft ?? null;
      const sealing = draft(seal, { walk, aircraft, t: null });
      const events = await write((now) => ({ drafts: now === head ? [...drafts, sealing] : [] }));
      if (events.length > 0) return events;
    }
  }

  async function append(given: readonly Draft[]): Promise<readonly Event[]> {
    if (given.length === 0) return [];
    const no = await finality.refusal(given);
    if (no !== null) throw new StoreTrouble('refused', no);
    const drafts = given.some((d) => d.what.kind === 'walk-begun')
      ? given.map(withKey((await sealKey()).publicKey))
      : given;
    const walk = drafts.find(sealsItself)?.walk ?? null;
    return walk === null ? write(() => ({ drafts })) : appendSealed(drafts, walk);
  }

  async function deviceName(): Promise<string | null> {
    const name = await shelf.note('setting:device-name');
    return typeof name === 'string' && name.trim() !== '' ? name : null;
  }

  /** Remembers under which keys devices were met; gives what has to be told of it. */
  async function meet(seals: Parameters<typeof withSeals>[1]): Promise<readonly Announced[]> {
    const before = await metDevices(shelf, device);
    const after = withSeals(before, seals, world.now(), device);
    await keepMet(shelf, after);
    const { announce } = await import('./trust/announce.ts');
    return announce(before, after, device);
  }

  const store: Store = {
    device,
    durability: shelf.durability,
    append,
    walk: async (id) => readRows(await shelf.rows({ index: 'walk', value: id })).events,
    all: async () => readRows(await shelf.rows()).events,
    async walks() {
      // Without news of other tabs it is looked at each time.
      if (parts.channel === null || listed === null) listed = summaries(shelf, device);
      const asked = listed;
      return asked.catch((error: unknown) => {
        if (listed === asked) listed = null;
        throw error;
      });
    },
    aircraftEvents: async (aircraft) =>
      readRows(await shelf.rows({ index: 'aircraft', value: aircraft })).events,
    async squawkMark() {
      const kinds = ['squawk', `${ASIDE}squawk`];
      const states = kinds.map(async (value) => {
        const [count, latest] = await Promise.all([
          shelf.count('kind', value),
          shelf.latest('kind', value),
        ]);
        return `${count} ${latest?.hash ?? ''}`;
      });
      return [...(await Promise.all(states)), await looseMark(shelf)].join(' ');
    },
    async learnedEvents() {
      const rows = await Promise.all(
        ['learned', 'unlearned'].map((value) => shelf.rows({ index: 'kind', value })),
      );
      return rows.flatMap((r) => readRows(r).events);
    },
    async squawkEvents() {
      // R4: what was written up is looked at again, also when it came in a version
      // of a walk that counts nowhere. What would settle it stays aside.
      const aside = await shelf.rows({ index: 'kind', value: `${ASIDE}squawk` });
      const opened = readRows(aside).events.filter(
        ({ what }) => what.kind === 'squawk' && what.step.step === 'opened',
      );
      const here = readRows(await shelf.rows({ index: 'kind', value: 'squawk' })).events;
      const loose = await looseSquawks(shelf, [...here, ...opened]);
      return openingsApart([here, opened, loose], device);
    },
    async judged(name) {
      const { walk, mark } = namedWalk(name);
      const { openedTrust } = await import('./trust/open-trust.ts');
      return openedTrust(await judgeHere(shelf, walk, await known()), mark, () => erasures(shelf));
    },
    async counted(name) {
      const { walk, mark } = namedWalk(name);
      const judged = await judgeHere(shelf, walk, await known(), { hashes: false });
      return readCounts(versionOf(judged, mark));
    },
    unreadable: async () => readRows(await shelf.rows()).unreadable,

    async keepCatalogue(edition, catalogue) {
      // What is kept is the JSON of it, so that it hashes the same ever after.
      const text = canonical(catalogue);
      if (sha256Hex(text) !== edition)
        throw new StoreTrouble('refused', `This catalogue is not the edition ${edition}.`);
      const read = readFull(JSON.parse(text));
      if (!read.ok) throw new StoreTrouble('refused', read.error);
      await shelf.putCatalogue(edition, read.value);
    },
    async catalogue(edition) {
      const seen = looked.get(edition);
      if (seen !== undefined) return seen;
      const kept = await shelf.catalogue(edition);
      if (kept === undefined) return null;
      if (editionOf(kept) !== edition)
        throw new StoreTrouble(
          'broken',
          `The catalogue kept as edition ${edition} is no longer what it was. Restore it from a backup.`,
        );
      looked.set(edition, kept);
      return kept;
    },
    editions: () => shelf.editions(),

    keepSound,
    sound: (recording, of) => readSound(shelf, recording, of),
    recordings: () => sumSound(shelf),
    recordingsOf: (person) => recordingsOf(shelf, person),
    eraseSound: (recording, why) => eraseSound(shelf, recording, why, draft, writeOne),

    keepPicture,
    picture: (picture, hash) => readPicture(shelf, picture, hash),
    pictures: () => picturesIn(shelf),
    erasePicture: (picture, why) => erasePicture(shelf, picture, why, draft, writeOne),

    derived: (kind) => shelf.derived(kind),
    keepDerived: (kind, values) => shelf.keepDerived(kind, values),
    setting: (key) => shelf.note(`setting:${key}`),
    setSetting: (key, value) => shelf.setNote(`setting:${key}`, value),

    subscribe(listener) {
      listeners.add(listener);
      return () => void listeners.delete(listener);
    },
    takeRecorder: () => recorder.take(),
    waitForRecorder: (signal) => recorder.wait(signal),
    recording: () => recorder.taken(),
    async room() {
      const reserved = (await parts.reserve?.fill()) ?? null;
      if (reserved === true) wordsOnly = false;
      return askRoom(parts.storage, reserved, parts.copies?.());
    },

    async seal(walk) {
      const events = await appendSealed([], walk);
      const event = events.at(-1);
      if (event === undefined) throw new BadDraft('Nothing was written.');
      return event;
    },
    async devices() {
      const { deviceKeys } = await import('./trust/announce.ts');
      const name = await deviceName();
      return deviceKeys(await metDevices(shelf, device), {
        device,
        publicKey: (await sealKey()).publicKey,
        name,
      });
    },
    nameDevice: (name) => shelf.setNote('setting:device-name', name.trim().slice(0, LONGEST_NAME)),
    async compareKey(publicKey, compared, of) {
      const met = await metDevices(shelf, device);
      const whose = of ?? met.find((m) => m.publicKey === publicKey)?.device;
      await keepMet(
        shelf,
        met.map((m) => (m.publicKey === publicKey && m.device === whose ? { ...m, compared } : m)),
      );
    },
    async meetDevice({ device: id, publicKey, name }) {
      const met = await metDevices(shelf, device);
      const fresh = { device: id, publicKey, name, since: world.now(), compared: true };
      const there = met.some((m) => m.device === id && m.publicKey === publicKey);
      await keepMet(
        shelf,
        there
          ? met.map((m) =>
              m.device === id && m.publicKey === publicKey ? { ...m, compared: true } : m,
            )
          : [...met, fresh],
      );
    },
    signHash: async (hash) => (await sealKey()).sign(hash),
    publicKey: async () => (await sealKey()).publicKey,
    async verify() {
      const rows = await shelf.rows();
      return verifyEvents(rows.map(rawOf));
    },
    async merge(events) {
      const { merged, news, seals } = await takeIn(shelf, device, await known(), events);
      finality.forget();
      tell(news, true);
      const met = await meet(seals);
      const texts = (all: readonly Announced[]) => all.map((a) => a.text);
      return { ...merged, announced: texts(met), rekeyed: texts(met.filter((a) => a.changed)) };
    },
    // The zip is a third of the store's code and is needed after the walk.
    async backup(options) {
      const { makeBackup } = await import('./backup.ts');
      const key = await sealKey();
      return makeBackup(
        shelf,
        { device, made: world.now(), key, name: await deviceName() },
        options,
      );
    },
    async restore(file, options) {
      const { restoreBackup } = await import('./restore.ts');
      const { touchedText } = await import('./trust/touched.ts');
      const before = new Set((await store.squawkEvents()).map(({ what }) => squawkIn(what)));
      const { restored, news, seals } = await restoreBackup(
        shelf,
        device,
        await known(),
        file,
        options,
      );
      finality.forget();
      tell(news, true);
      const announced = [
        ...touchedText(news, before, device),
        ...(await meet(seals)).map((a) => a.text),
      ];
      return { ...restored, announced, text: [...restored.text, ...announced] };
    },
    ...schoolWays(shelf, device, sealKey),
    close() {
      listeners.clear();
      parts.channel?.close();
      shelf.close();
    },
  };
  return store;
}

/** A name that is longer is no name, and goes into every seal. */
const LONGEST_NAME = 80;

/** The walk is begun with the key that may seal it. */
function withKey(key: string): (draft: Draft) => Draft {
  return (draft) =>
    draft.what.kind === 'walk-begun' ? { ...draft, what: { ...draft.what, key } } : draft;
}

type Make = (head: string | null) => { drafts: readonly Draft[] } & Omit<Work, 'rows'>;

function isFull(error: unknown): boolean {
  return error instanceof StoreTrouble && error.kind === 'full';
}

export function rowOf({ event, text }: Chained): Row {
  return {
    id: event.id,
    device: event.device,
    walk: event.walk,
    aircraft: event.aircraft,
    kind: event.what.kind,
    prev: event.prev,
    hash: event.hash,
    text,
  };
}
