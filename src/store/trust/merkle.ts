import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, concatBytes, hexToBytes, utf8ToBytes } from '@noble/hashes/utils.js';

/** Prefixes that keep a leaf from being taken for a node (RFC 9162, section 2.1.1). */
const LEAF = Uint8Array.of(0);
const NODE = Uint8Array.of(1);

/** Merkle Tree Hash over these entries in their order (RFC 9162, section 2.1.1). */
export function treeHash(entries: readonly Uint8Array[]): Uint8Array {
  const [first] = entries;
  if (first === undefined) return sha256(new Uint8Array());
  if (entries.length === 1) return sha256(concatBytes(LEAF, first));
  let k = 1;
  while (k * 2 < entries.length) k *= 2;
  return sha256(concatBytes(NODE, treeHash(entries.slice(0, k)), treeHash(entries.slice(k))));
}

/**
 * The root over the hashes of events, each 64 hex digits; lower-case hex. What
 * is no hash in hex is taken as its text, so that it can never pass for one.
 */
export function rootOf(hashes: readonly string[]): string {
  return bytesToHex(
    treeHash(hashes.map((h) => (/^[0-9a-f]{64}$/.test(h) ? hexToBytes(h) : utf8ToBytes(h)))),
  );
}
