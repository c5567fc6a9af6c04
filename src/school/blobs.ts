import { randomUUID } from 'node:crypto';
import { mkdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { sha256Hex } from '#store/pure';

/** Where sound and pictures lie, by the SHA-256 of their bytes. */
export interface Blobs {
  /** Whole or not at all; rejects with `StoreAway`. Twice is the same as once. */
  put(school: string, hash: string, bytes: Uint8Array): Promise<void>;
  /** null: it is not there, or not what was put in. Rejects with `StoreAway` when nobody can tell. */
  get(school: string, hash: string): Promise<Uint8Array | null>;
  /** Not an error when it is not there; rejects with `StoreAway`. */
  remove(school: string, hash: string): Promise<void>;
  /** Resolves when it can be read from now; rejects with `StoreAway`. */
  check(): Promise<void>;
}

/** Where the bytes lie cannot be used now; the message is one sentence, for the log of the server and for who set it up. */
export class StoreAway extends Error {
  override readonly name = 'StoreAway';
  /** Waiting does not help: the settings are wrong. */
  readonly forGood: boolean;
  constructor(sentence: string, options: { readonly forGood?: boolean; readonly cause?: unknown }) {
    super(sentence, { cause: options.cause });
    this.forGood = options.forGood === true;
  }
}

/** In a folder, a thousand or so to each folder of it. */
export function folderBlobs(folder: string): Blobs {
  const path = (school: string, hash: string) => join(folder, school, hash.slice(0, 2), hash);
  async function read(school: string, hash: string): Promise<Uint8Array | null> {
    try {
      return whole(hash, Uint8Array.from(await readFile(path(school, hash))));
    } catch (error) {
      if (codeOf(error) === 'ENOENT') return null;
      throw error;
    }
  }
  return {
    put: (school, hash, bytes) =>
      onDisk(folder, async () => {
        const file = path(school, hash);
        if ((await read(school, hash)) !== null) return;
        await mkdir(join(file, '..'), { recursive: true, mode: 0o700 });
        // Whole or not at all: a server that is killed leaves a name that nobody asks for.
        // A name of its own: the same piece may be coming twice at this moment.
        const part = `${file}.${randomUUID()}.part`;
        await writeFile(part, bytes, { mode: 0o600, flush: true });
        await rename(part, file);
      }),
    get: (school, hash) => onDisk(folder, () => read(school, hash)),
    remove: (school, hash) => onDisk(folder, () => rm(path(school, hash), { force: true })),
    check: () =>
      onDisk(folder, async () => {
        await mkdir(folder, { recursive: true, mode: 0o700 });
      }),
  };
}

/**
 * Null unless it is what the hash says: a store that was cut off in the middle of an
 * upload may keep the half that came, and a disk may lose what it has.
 */
export function whole(hash: string, bytes: Uint8Array): Uint8Array | null {
  return sha256Hex(bytes) === hash ? bytes : null;
}

async function onDisk<T>(folder: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (cause) {
    const code = codeOf(cause);
    const why =
      code === 'ENOSPC'
        ? 'The disk is full: make room'
        : code === 'EACCES' || code === 'EPERM'
          ? 'The server may not write there: give it the folder'
          : `The disk answers ${code}: look at it`;
    throw new StoreAway(`Sound and pictures cannot be kept in ${folder}. ${why}.`, { cause });
  }
}

function codeOf(error: unknown): string {
  return error instanceof Error && 'code' in error ? String(error.code) : 'with nonsense';
}
