import type { Draft, Event } from '#shared/event';
import type { World } from '#shared/log';
import { canonical, sha256Hex } from './canonical.ts';
import { editionOf, readFull } from './catalogues.ts';
import { BadDraft, chain, type Chained } from './chain.ts';
import {
  StoreTrouble,
  type News,
  type SoundChunk,
  type SoundKept,
  type Store,
  type WalkSummary,
} from './contract.ts';
import { takeIn } from './take-in.ts';
import { rawOf, readRows } from './reading.ts';
import type { Recorder } from './recorder.ts';
import type { Reserve } from './reserve.ts';
import { askRoom, tooTight, type Copies, type Storage } from './room.ts';
import { keyOf, makeKey, type SealKey } from './seal.ts';
import type { Row, Shelf, Work } from './shelf.ts';
import { eraseSound, readSound, recordingsOf, sumSound } from './sound.ts';
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
  /** Chunks are refused after this until one fits again; said once in the log. */
  let soundStopped: string | null = null;
  /** The reserve was given up for words: no sound before it is taken again. */
  let wordsOnly = false;

  function tell(events: readonly Event[], own: boolean): void {
    if (events.length === 0) return;
    if (own) parts.channel?.send(events);
    for (const listener of [...listeners]) listener({ events, own });
  }
  parts.channel?.listen((events) => tell(events, false));

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
    return keyOf(kept, parts.subtle);
  }

  /** The log may grow while the signature is made; then it is made again. */
  async function seal(walk: string): Promise<Event> {
    const key = await sealKey();
    for (;;) {
      const last = await shelf.latest('device', device);
      const mine = await shelf.latest('walk', walk);
      if (last === undefined || mine === undefined)
        throw new StoreTrouble('refused', `There is no walk ${walk} to seal.`);
      const over = last.hash;
      const signature = await key.sign(over);
      const [event] = await write((head) =>
        head === over
          ? {
              drafts: [
                draft(
                  { kind: 'sealed', publicKey: key.publicKey, signature, over },
                  { walk, aircraft: mine.aircraft, t: null },
                ),
              ],
            }
          : { drafts: [] },
      );
      if (event !== undefined) return event;
    }
  }

  const store: Store = {
    device,
    durability: shelf.durability,
    append: (drafts) => (drafts.length === 0 ? Promise.resolve([]) : write(() => ({ drafts }))),
    walk: async (id) => readRows(await shelf.rows({ index: 'walk', value: id })).events,
    all: async () => readRows(await shelf.rows()).events,
    walks: (): Promise<readonly WalkSummary[]> => summaries(shelf, device),
    aircraftEvents: async (aircraft) =>
      readRows(await shelf.rows({ index: 'aircraft', value: aircraft })).events,
    squawkEvents: async () => readRows(await shelf.rows({ index: 'kind', value: 'squawk' })).events,
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
      const kept = await shelf.catalogue(edition);
      if (kept === undefined) return null;
      if (editionOf(kept) !== edition)
        throw new StoreTrouble(
          'broken',
          `The catalogue kept as edition ${edition} is no longer what it was. Restore it from a backup.`,
        );
      return kept;
    },
    editions: () => shelf.editions(),

    keepSound,
    sound: (recording) => readSound(shelf, recording),
    recordings: () => sumSound(shelf),
    recordingsOf: (person) => recordingsOf(shelf, person),
    eraseSound: (recording, why) => eraseSound(shelf, recording, why, draft, writeOne),

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

    seal,
    signHash: async (hash) => (await sealKey()).sign(hash),
    publicKey: async () => (await sealKey()).publicKey,
    async verify() {
      const rows = await shelf.rows();
      return verifyEvents(rows.map(rawOf));
    },
    async merge(events) {
      const { merged, news } = await takeIn(shelf, device, events);
      tell(news, true);
      return merged;
    },
    // The zip is a third of the store's code and is needed after the walk.
    async backup(options) {
      const { makeBackup } = await import('./backup.ts');
      return makeBackup(shelf, device, world.now(), options);
    },
    async restore(file, options) {
      const { restoreBackup } = await import('./restore.ts');
      const { restored, news } = await restoreBackup(shelf, device, file, options);
      tell(news, true);
      return restored;
    },
    close() {
      listeners.clear();
      parts.channel?.close();
      shelf.close();
    },
  };
  return store;
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
