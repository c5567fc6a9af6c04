import type { FileEntry } from '@zip.js/zip.js/index-native.js';
import { MAX_RATIO } from './limits.ts';

/**
 * One entry of a zip, ready to be read. What the zip library knows of an entry
 * takes 7 kB, and reading one through its streams 3 ms in a browser: with 20,000
 * entries that was a minute and half a gigabyte. An entry that is not compressed,
 * as all of ours are, is a slice of the file and is kept as just that.
 */
export interface Part {
  /** Unpacked, as the zip says; not to be believed. */
  readonly size: number;
  readonly packed: number;
  /** Unpacks it. Rejects with `TooMuch` past the limit, and otherwise when the zip is damaged here. */
  read(limit: number): Promise<Uint8Array>;
}

export class TooMuch extends Error {}

/** Bytes of a local file header before its name (APPNOTE.TXT 6.3.10, section 4.3.7). */
const HEADER = 30;
/** "PK\3\4", as a little-endian number. */
const SIGNATURE = 0x04034b50;
const STORED = 0;

export function partOf(file: Blob | Uint8Array, entry: FileEntry): Part {
  const { uncompressedSize: size, compressedSize: packed, offset } = entry;
  if (entry.compressionMethod !== STORED || entry.encrypted || size !== packed)
    return { size, packed, read: (limit) => unpacked(entry, limit) };
  return { size, packed, read: (limit) => sliced(file, offset, size, limit) };
}

async function sliced(
  file: Blob | Uint8Array,
  offset: number,
  size: number,
  limit: number,
): Promise<Uint8Array> {
  if (size > limit) throw new TooMuch();
  const head = await bytesOf(file, offset, offset + HEADER);
  const view = new DataView(head.buffer, head.byteOffset, head.byteLength);
  if (head.length < HEADER || view.getUint32(0, true) !== SIGNATURE) throw new Error('No entry.');
  const from = offset + HEADER + view.getUint16(26, true) + view.getUint16(28, true);
  const data = await bytesOf(file, from, from + size);
  if (data.length < size) throw new Error('It is cut off.');
  return data;
}

async function bytesOf(file: Blob | Uint8Array, from: number, to: number): Promise<Uint8Array> {
  return file instanceof Uint8Array
    ? file.subarray(from, to)
    : new Uint8Array(await file.slice(from, to).arrayBuffer());
}

/** Unpacks by the library, believing nothing that the entry says about its own size. */
async function unpacked(entry: FileEntry, limit: number): Promise<Uint8Array> {
  const most = Math.min(limit, ratioLimit(entry.compressedSize));
  const parts: Uint8Array[] = [];
  let size = 0;
  try {
    await entry.getData(
      new WritableStream<Uint8Array>({
        write(part) {
          size += part.length;
          if (size > most) throw new TooMuch();
          // The buffer may be used again for the next part.
          parts.push(part.slice());
        },
      }),
      // Our own hashes say more than the zip's checksum, and name the event.
      { useWebWorkers: false, checkSignature: false },
    );
  } catch (error) {
    throw size > most ? new TooMuch() : error;
  }
  const out = new Uint8Array(size);
  let at = 0;
  for (const part of parts) {
    out.set(part, at);
    at += part.length;
  }
  return out;
}

/** Bytes that so many packed ones may come to. */
export function ratioLimit(packed: number): number {
  return Math.max(1024 * 1024, packed * MAX_RATIO);
}
