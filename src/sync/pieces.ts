import type { PieceName } from '#shared/school';
import { SchoolAway, SchoolSaidNo, type InSchool, type Piece } from './api.ts';
import type { SyncStore } from './step.ts';

/** Pieces in one upload; the school takes no more. */
export const PIECES = 16;

/**
 * Bytes in one upload, unless a single piece is larger. Sixteen pieces of two seconds
 * are half of it. More: on a poor network (5 kB/s) the answer would come after the
 * patience of a request. Less: more requests.
 */
export const PIECE_BYTES = 256 * 1024;

/** Pictures asked for in one round: six of each of four squawks. */
const PICTURES = 24;

/**
 * What the school wants of this device and is here: pictures, then sound, in
 * uploads of several pieces. What does not come through together is tried one by
 * one. Until a walk is begun, when the phone has other things to do.
 *
 * @returns sentences about what was not taken
 */
export async function sendPieces(
  store: SyncStore,
  school: InSchool,
  busy: () => Promise<boolean>,
): Promise<readonly string[]> {
  const told: string[] = [];
  let atOnce = PIECES;
  for (let after: string | null = null; ;) {
    const { wanted, cursor }: Awaited<ReturnType<InSchool['wanted']>> = await school.wanted(after);
    for (let from = 0; from < wanted.length;) {
      if (await busy()) return told;
      const { pieces, read } = await batchOf(store, wanted.slice(from), atOnce);
      if (pieces.length > 0) {
        try {
          const { refused } = await school.givePieces(pieces);
          told.push(...refused.filter((r) => !r.gone).map((r) => r.why));
        } catch (error) {
          if (!(error instanceof SchoolAway) || atOnce === 1) throw error;
          atOnce = 1;
          continue;
        }
      }
      from += read;
    }
    if (cursor === null) return told;
    after = cursor;
  }
}

/** As many as go together; those that are not here are passed over. */
async function batchOf(
  store: SyncStore,
  wanted: readonly PieceName[],
  atOnce: number,
): Promise<{ readonly pieces: readonly Piece[]; readonly read: number }> {
  const pieces: Piece[] = [];
  let size = 0;
  let read = 0;
  for (const name of wanted) {
    if (pieces.length === atOnce) break;
    const bytes = await store.bytes(name);
    if (bytes !== null && pieces.length > 0 && size + bytes.length > PIECE_BYTES) break;
    read += 1;
    if (bytes === null || pieces.some((piece) => piece.hash === name.hash)) continue;
    pieces.push({ hash: name.hash, bytes });
    size += bytes.length;
  }
  return { pieces, read };
}

/**
 * Brings pictures that belong on this device: those of open squawks. Asks first
 * which the school has.
 *
 * @returns how many came
 */
export async function bringPictures(
  store: SyncStore,
  school: InSchool,
  busy: () => Promise<boolean>,
): Promise<number> {
  const missing = await store.missingPictures();
  if (missing.length === 0) return 0;
  let came = 0;
  for (let from = 0; from < missing.length; from += PICTURES) {
    const some = missing.slice(from, from + PICTURES);
    const here = new Set(await school.picturesHere(some.map((p) => p.hash)));
    for (const { picture, hash } of some.filter((p) => here.has(p.hash))) {
      if (await busy()) return came;
      try {
        if (await store.takePicture(picture, await school.picture(hash))) came += 1;
      } catch (error) {
        // Erased in the meantime, or the school's disk is away: the others come all the same.
        if (!(error instanceof SchoolSaidNo)) throw error;
      }
    }
  }
  return came;
}
