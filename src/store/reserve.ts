/**
 * Room that is taken before the walk and given back when the disk is full, so
 * that words go on. Browsers no longer say how much room there is: Chromium
 * names 10 GB to every page, whatever the disk holds. So the only room that can
 * be relied on is room that one has.
 */
export interface Reserve {
  /** Takes it, unless it is taken. false: there was no room for it. */
  fill(): Promise<boolean>;
  /** Gives it back. false: there was none. */
  release(): Promise<boolean>;
}

/** Where it lies: its deletion frees the room at once, which a database's does not. */
const CACHE = 'talkround-reserve';
const ENTRY = '/reserve-for-words';

/** A reserve in the browser's cache, beside the database and under the same quota. */
export function cacheReserve(caches: CacheStorage, bytes: number): Reserve {
  return {
    async fill() {
      try {
        const cache = await caches.open(CACHE);
        if ((await cache.match(ENTRY)) !== undefined) return true;
        await cache.put(ENTRY, new Response(new Uint8Array(bytes)));
        return true;
      } catch {
        await caches.delete(CACHE).catch(() => false);
        return false;
      }
    },
    async release() {
      try {
        return await caches.delete(CACHE);
      } catch {
        return false;
      }
    },
  };
}
