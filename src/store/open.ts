import type { Event } from '#shared/event';
import type { World } from '#shared/log';
import type { Store } from './contract.ts';
import { COPY_BEHIND, ONE_COPY } from './copy/copy.ts';
import type { CopyFiles } from './copy/files.ts';
import { inSentence } from './copy/mend.ts';
import { privateFiles } from './copy/opfs.ts';
import { secondCopy } from './copy/second.ts';
import { EMPTIED, wasEmptied, type Marks } from './emptied.ts';
import { localRecorder, lockedRecorder } from './recorder.ts';
import { idbShelf } from './shelf-idb.ts';
import { memoryShelf } from './shelf-memory.ts';
import { storeOver, type Channel } from './store.ts';
import { cacheReserve } from './reserve.ts';
import { RESERVE_FOR_WORDS, type Storage } from './room.ts';

export interface OpenOptions {
  /** Name of the database; one record each. */
  readonly name: string;
  readonly world: World;
  /** The record can no longer be written, and why, in one sentence for the screen. */
  readonly onLost?: (why: string) => void;
  /** The database came back empty although there was one before; one sentence for the screen. */
  readonly onEmptied?: (why: string) => void;
  /** The browser had lost the record or a part of it, and the second copy gave it back; one sentence for the screen. */
  readonly onBroughtBack?: (what: string) => void;
  /** Instead of the browser's private files, for tests. Null: there are none. */
  readonly files?: (folder: string) => Promise<CopyFiles | null>;
  /** Instead of `localStorage`, where it is remembered that there was a database. */
  readonly marks?: Marks;
  /** Instead of `navigator.storage`, so that a full disk can be played. */
  readonly storage?: Storage;
}

/**
 * Opens the record in the browser's database, making it when it is not there,
 * and its second copy where the browser has files. What the database has lost
 * and the copy still has is brought back first. Rejects with `StoreTrouble` when
 * the browser does not allow a record, or when a newer Talkround wrote it.
 */
export async function openStore(options: OpenOptions): Promise<Store> {
  const { name, world } = options;
  const platform: Partial<Navigator> = typeof navigator === 'undefined' ? {} : navigator;
  const say = { lost: options.onLost ?? (() => undefined) };
  let made = false;
  let damaged = false;
  // The writer of the second copy starts while the database opens.
  const starting = (options.files ?? privateFiles)(`${name}-copy`);
  starting.catch(() => undefined);
  const base = await idbShelf(
    name,
    (why) => say.lost(why),
    (thrown) => {
      made = true;
      damaged = thrown;
    },
  ).catch(async (error: unknown) => {
    (await starting.catch(() => null))?.close();
    throw error;
  });
  const files = await starting;
  const second = files === null ? null : await secondCopy(base, files, name, made, platform.locks);
  if (second !== null)
    say.lost = (why) => {
      second.release();
      options.onLost?.(why);
    };
  const emptied = wasEmptied(options.marks ?? localMarks(), name, made, damaged);
  const back = second?.back ?? null;
  if (emptied && back === null) options.onEmptied?.(EMPTIED);
  const store = await storeOver({
    shelf: second?.shelf ?? base,
    world,
    recorder: platform.locks === undefined ? localRecorder() : lockedRecorder(platform.locks, name),
    subtle: globalThis.crypto?.subtle,
    storage: options.storage ?? platform.storage,
    reserve: typeof caches === 'undefined' ? null : cacheReserve(caches, RESERVE_FOR_WORDS),
    copies: () => ({
      count: second?.copy.whole() === true ? 2 : 1,
      trouble: second === null ? ONE_COPY : second.copy.whole() ? null : COPY_BEHIND,
    }),
    channel: typeof BroadcastChannel === 'undefined' ? null : channelOf(name),
  });
  if (back !== null) {
    const what = { kind: 'brought-back' as const, ...back };
    const of = { walk: null, aircraft: null, t: null };
    await store.append([{ v: 1, id: world.id(), at: world.now(), ...of, what }]);
    options.onBroughtBack?.(inSentence(back));
  }
  return store;
}

/** The same store in memory: for the command line and for tests. */
export async function memoryStore(
  world: World,
  options: { readonly device?: string; readonly storage?: Storage } = {},
): Promise<Store> {
  return storeOver({
    shelf: memoryShelf(),
    world,
    recorder: localRecorder(),
    // Node calls its own Ed25519 experimental and says so on the screen.
    subtle: undefined,
    storage: options.storage,
    reserve: null,
    channel: null,
    ...(options.device === undefined ? {} : { device: options.device }),
  });
}

/** Merely asking for it throws where a browser forbids storage. */
function localMarks(): Marks | undefined {
  try {
    return typeof window === 'undefined' ? undefined : window.localStorage;
  } catch {
    return undefined;
  }
}

function channelOf(name: string): Channel {
  const channel = new BroadcastChannel(`${name} log`);
  return {
    send: (events) => channel.postMessage(events),
    listen(take) {
      channel.onmessage = (message: MessageEvent<readonly Event[]>) => take(message.data);
    },
    close: () => channel.close(),
  };
}
