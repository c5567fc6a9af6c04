import type { Event } from '#shared/event';
import type { World } from '#shared/log';
import type { Store } from './contract.ts';
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
  /** Instead of `localStorage`, where it is remembered that there was a database. */
  readonly marks?: Marks;
  /** Instead of `navigator.storage`, so that a full disk can be played. */
  readonly storage?: Storage;
}

/**
 * Opens the record in the browser's database, making it when it is not there.
 * Rejects with `StoreTrouble` when the browser does not allow one, or when a
 * newer Talkround wrote it.
 */
export async function openStore(options: OpenOptions): Promise<Store> {
  let made = false;
  let damaged = false;
  const shelf = await idbShelf(options.name, options.onLost ?? (() => undefined), (thrown) => {
    made = true;
    damaged = thrown;
  });
  if (wasEmptied(options.marks ?? localMarks(), options.name, made, damaged))
    options.onEmptied?.(EMPTIED);
  const platform: Partial<Navigator> = typeof navigator === 'undefined' ? {} : navigator;
  return storeOver({
    shelf,
    world: options.world,
    recorder:
      platform.locks === undefined ? localRecorder() : lockedRecorder(platform.locks, options.name),
    subtle: globalThis.crypto?.subtle,
    storage: options.storage ?? platform.storage,
    reserve: typeof caches === 'undefined' ? null : cacheReserve(caches, RESERVE_FOR_WORDS),
    channel: typeof BroadcastChannel === 'undefined' ? null : channelOf(options.name),
  });
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
