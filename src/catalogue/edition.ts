import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import canonicalize from 'canonicalize';
import type { Catalogue } from '#shared/catalogue';

/**
 * The content of a catalogue as 64 hex digits: SHA-256 (FIPS 180-4) of its
 * canonical JSON (RFC 8785). A walk keeps the edition it began with, so any
 * change of meaning must change it, and a change of layout or comment must not.
 */
export function editionOf(catalogue: Catalogue): string {
  const text = canonicalize(catalogue);
  if (text === undefined) throw new TypeError('A catalogue has to be an object.');
  return bytesToHex(sha256(utf8ToBytes(text)));
}
