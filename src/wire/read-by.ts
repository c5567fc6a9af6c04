import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex } from '@noble/hashes/utils.js';
import type { Reader } from '#shared/reader';

/** SHA-256, hex, of the file of scores that a reader reads with. */
export function hashOfScores(file: ArrayBuffer | Uint8Array): string {
  return bytesToHex(sha256(file instanceof Uint8Array ? file : new Uint8Array(file)));
}

/** The same reader, telling which it is, so that every walk records who read it. */
export function withName<R extends Reader & { readonly version: string | null }>(
  reader: R,
  weights: string | null,
): R & Required<Pick<Reader, 'by'>> {
  return { ...reader, by: { version: reader.version, weights } };
}
