import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import serialize from 'canonicalize';

/**
 * The one text of a JSON value: RFC 8785 (JSON Canonicalization Scheme).
 *
 * Fields that are `undefined` are left out, as in JSON. Throws on NaN and
 * infinities, which JSON does not have.
 */
export function canonical(value: unknown): string {
  const text = serialize(value);
  if (text === undefined) throw new TypeError('Only JSON values have a canonical text.');
  return text;
}

/** SHA-256 (FIPS 180-4), lower-case hex; text is hashed as its UTF-8 bytes. */
export function sha256Hex(data: string | Uint8Array): string {
  return bytesToHex(sha256(typeof data === 'string' ? utf8ToBytes(data) : data));
}
