import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { readWeights, type Weights } from '#grammar';
import { hashOfScores } from '#wire';
import { bytesOf } from './files.ts';

/** Where the scores lie: beside the source, and beside the app that was built. */
const PLACES = [
  '../../public/reader/scores.bin',
  '../app/reader/scores.bin',
  '../../reader/scores.bin',
];

let read: Weights | null = null;
let hash: string | null = null;

/** The learned scores of the reader. @throws Refusal or WeightsError with one sentence. */
export function scores(): Weights {
  if (read !== null) return read;
  const files = PLACES.map((place) => fileURLToPath(new URL(place, import.meta.url)));
  const file = files.find((f) => existsSync(f)) ?? files[0] ?? '';
  const bytes = bytesOf(file);
  read = readWeights(
    bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer,
  );
  hash = hashOfScores(bytes);
  return read;
}

/** SHA-256, hex, of the file of scores; null before it was read. */
export const scoresHash = (): string | null => hash;
