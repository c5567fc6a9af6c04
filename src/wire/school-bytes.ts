import { PICTURE_CHUNK } from '#shared/kept';
import { squawksOf } from '#reconcile';
import type { Store } from '#store';
import type { SyncStore } from '#sync';
import { picturesBySquawk } from './pictures.ts';

/** Squawks whose pictures every phone has: those that somebody has to look for. */
const LOOKED_FOR: ReadonlySet<string> = new Set(['open', 'deferred', 'rectified']);

/** Sound and pictures of a record, as they go to a school and come from it. */
export function bytesFor(
  store: Store,
): Pick<SyncStore, 'bytes' | 'missingPictures' | 'takePicture'> {
  return {
    async bytes({ recording, chunk, hash, picture }) {
      if (picture) {
        const shown = await store.picture(recording, hash);
        return shown.state === 'here' ? new Uint8Array(shown.data) : null;
      }
      const kept = await store.sound(recording);
      const found = kept.chunks.find((c) => c.chunk === chunk);
      return found === undefined ? null : new Uint8Array(found.data);
    },
    async missingPictures() {
      if ((await store.pictures()).length === 0) return [];
      const squawks = squawksOf(await store.squawkEvents()).filter((s) => LOOKED_FOR.has(s.state));
      const named = [...(await picturesBySquawk(store, squawks)).values()].flat();
      const states = await Promise.all(
        named.map(async ({ picture, hash }) => ({
          picture,
          hash,
          state: (await store.picture(picture, hash)).state,
        })),
      );
      return states
        .filter((p) => p.state === 'gone')
        .map(({ picture, hash }) => ({ picture, hash }));
    },
    takePicture: (picture, bytes) => store.takeSound(picture, PICTURE_CHUNK, bytes),
  };
}
