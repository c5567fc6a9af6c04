import type { Proof } from '#shared/school';
import { canonical, sha256Hex } from './canonical.ts';

/** In front of what is signed: no seal and no manifest has this form, so that no signature can serve as another. */
const PROOF = 'talkround school 1';

/** SHA-256, hex, of the RFC 8785 form of a request: what its signature is over. */
export function proofHash(proof: Proof): string {
  return sha256Hex(canonical({ ...proof, proof: PROOF }));
}
