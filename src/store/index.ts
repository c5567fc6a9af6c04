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

/**
 * Verifies a backup, or events as JSON lines or a JSON array. Loads the zip
 * reader on first use.
 */
export async function verifyFile(bytes: Uint8Array): Promise<FileVerdict> {
  return (await import('./verify-file.ts')).verifyFile(bytes);
}
export { browserUpdates, VERSION, watchForUpdate, type Update } from './offline.ts';
