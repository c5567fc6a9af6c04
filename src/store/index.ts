export { StoreTrouble } from './contract.ts';
export type {
  KeptChunk,
  KeptSound,
  News,
  SoundChunk,
  SoundKept,
  Store,
  Unreadable,
  WalkSummary,
} from './contract.ts';
export { memoryStore, openStore, type OpenOptions } from './open.ts';
export { mergeEvents, type Merged } from './merge.ts';
export { verifyEvents, type Verdict } from './verify.ts';
export type { Room } from './room.ts';
