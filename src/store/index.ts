import type { FileVerdict } from './verify-file.ts';

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
export { sealHolds } from './seal.ts';
export { mergeEvents, type Merged } from './merge.ts';
export { verifyEvents, type Verdict } from './verify.ts';
export type { Room } from './room.ts';
export type { Backup, BackupOptions } from './backup.ts';
export type { Restored, RestoreOptions } from './restore.ts';
export type { FileVerdict };
export type { SchoolWays } from './school-ways.ts';
export { wordsOfKey, type DeviceKey } from './trust/fingerprint.ts';
export type { WalkTrust } from './trust/opened.ts';
export { quoted } from './trust/plain-words.ts';

/**
 * Verifies a backup, or events as JSON lines or a JSON array. Loads the zip
 * reader on first use.
 *
 * @param expected fingerprints in words of the keys that may have sealed the walks; none: any
 */
export async function verifyFile(
  bytes: Uint8Array,
  expected: readonly string[] = [],
): Promise<FileVerdict> {
  return (await import('./verify-file.ts')).verifyFile(bytes, expected);
}
export { browserUpdates, VERSION, watchForUpdate, type Update } from './offline.ts';
