import type { SealCovers } from '#shared/event';
import { canonical, sha256Hex } from '../canonical.ts';
import { sealHolds } from '../seal.ts';
import type { SealFields } from './held.ts';

/** Stands in what is signed, so that a signature can never be taken for one over something else. */
const SEAL = 'talkround seal 2';

/** The hash that is signed: hex of 32 bytes. */
export function signedHash(over: string, publicKey: string, covers: SealCovers): string {
  return sha256Hex(canonical({ seal: SEAL, over, publicKey, covers }));
}

/** null when the signature is the key's over what the seal says; else one sentence. Never throws. */
export function sealTrouble(seal: SealFields, prev: string | null): string | null {
  if (seal.over !== prev) return 'The seal is not over the event before it.';
  if (seal.covers === 'bad') return 'What the seal covers cannot be read.';
  const hash =
    seal.covers === null ? seal.over : signedHash(seal.over, seal.publicKey, seal.covers);
  return sealHolds(seal.publicKey, seal.signature, hash)
    ? null
    : 'The signature of the seal does not hold.';
}
