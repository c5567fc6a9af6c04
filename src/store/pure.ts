// The rules of the record without a browser: for a server that verifies what it gets.
export { canonical, sha256Hex } from './canonical.ts';
export { editionOf, readFull } from './catalogues.ts';
export {
  chain,
  hashFits,
  hashOf,
  inOrder,
  linkOf,
  type Chained,
  type Link,
  type Raw,
} from './chain.ts';
export { readJson } from './json.ts';
export { MAX_EVENT_BYTES, MAX_JSON_BYTES, MAX_SOUND_BYTES } from './limits.ts';
export { memoryShelf } from './shelf-memory.ts';
export { proofHash } from './proof.ts';
export { keyOf, makeKey, sealHolds, toBase64Url, fromBase64Url, type SealKey } from './seal.ts';
export { asideRow, isAside, linkIn } from './reading.ts';
export type { Row, Shelf, SoundRow } from './shelf.ts';
export type { Merged } from './merge.ts';
export { comparedAs, type Known } from './trust/keys.ts';
export { takeIn } from './take-in.ts';
export { verifyEvents } from './verify.ts';
