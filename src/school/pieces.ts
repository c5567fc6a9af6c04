import { z } from 'zod';
import { MAX_SOUND_BYTES } from '#store/pure';
import { Refused } from './refused.ts';

/** A piece of sound or a picture as it arrives. */
export interface Piece {
  readonly hash: string;
  readonly bytes: Uint8Array;
}

/**
 * Pieces in one upload at most. Fewer: more requests, each with a signature, a nonce
 * and its own statements. More: more is sent again when the network breaks.
 */
export const MOST_PIECES = 16;

/** The list in front of the bytes: a hash and a size a piece. */
const MOST_HEAD = 4 * 1024;

/** Bytes of one upload: the largest piece there may be, or as much in smaller ones. */
export const MOST_BYTES = MAX_SOUND_BYTES + MOST_HEAD;

const Head = z
  .array(
    z.object({
      hash: z.string().regex(/^[0-9a-f]{64}$/),
      bytes: z.number().int().nonnegative().max(MAX_SOUND_BYTES),
    }),
  )
  .min(1)
  .max(MOST_PIECES);

const LINE_END = 10;

/**
 * Reads an upload: one line of JSON, `[{"hash":…,"bytes":…},…]`, and behind it the
 * bytes of each, one after the other. Throws `Refused` with what is wrong.
 */
export function readPieces(body: Uint8Array): readonly Piece[] {
  const end = body.subarray(0, MOST_HEAD).indexOf(LINE_END);
  let json: unknown = null;
  try {
    if (end >= 0) json = JSON.parse(new TextDecoder().decode(body.subarray(0, end)));
  } catch {
    // Said below, with everything else that is no list.
  }
  const head = Head.safeParse(json);
  if (!head.success)
    throw new Refused(
      400,
      `An upload begins with a line that lists 1 to ${MOST_PIECES} pieces with hash and bytes; this one does not.`,
    );
  let at = end + 1;
  const pieces = head.data.map(({ hash, bytes }) => {
    const piece = { hash, bytes: body.subarray(at, at + bytes) };
    at += bytes;
    return piece;
  });
  if (at !== body.length)
    throw new Refused(
      400,
      `The list of this upload says ${at - end - 1} bytes, and ${body.length - end - 1} came: send it again.`,
    );
  return pieces;
}
