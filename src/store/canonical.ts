import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import serialize from 'canonicalize';

/** Half of a surrogate pair by itself, as JSON.stringify writes it: a whole pair is written as it is. */
const LONE_SURROGATE = /(?<!\\)(?:\\\\)*\\ud[89a-f]/;

/**
 * The one text of a JSON value: RFC 8785 (JSON Canonicalization Scheme).
 *
 * Fields that are `undefined` are left out, as in JSON. Throws on what the RFC
 * has no text for: NaN, infinities and lone surrogates.
 */
export function canonical(value: unknown): string {
  const text = serialize(value);
  if (text === undefined) throw new TypeError('Only JSON values have a canonical text.');
  if (text.includes('\\ud') && LONE_SURROGATE.test(text))
    throw new TypeError('A text has half of a surrogate pair in it.');
  return text;
}

/** The value with every lone surrogate in a text replaced by U+FFFD, as a decoder would. */
export function wellFormed<T>(value: T): T {
  const mend = (inner: unknown): unknown => {
    if (typeof inner === 'string') return inner.replace(/\p{Surrogate}/gu, '\ufffd');
    if (Array.isArray(inner)) return inner.map(mend);
    if (typeof inner !== 'object' || inner === null) return inner;
    return Object.fromEntries(Object.entries(inner).map(([k, v]) => [k, mend(v)]));
  };
  return mend(value) as T;
}

/** SHA-256 (FIPS 180-4), lower-case hex; text is hashed as its UTF-8 bytes. */
export function sha256Hex(data: string | Uint8Array): string {
  return bytesToHex(sha256(typeof data === 'string' ? utf8ToBytes(data) : data));
}
