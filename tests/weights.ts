import { readFileSync } from 'node:fs';
import { readWeights, type Weights } from '#grammar';

let read: Weights | null = null;

/** The learned scores of the project, read once for all tests of a file. */
export function testWeights(): Weights {
  if (read !== null) return read;
  const { buffer, byteOffset, byteLength } = readFileSync('public/reader/scores.bin');
  read = readWeights(buffer.slice(byteOffset, byteOffset + byteLength) as ArrayBuffer);
  return read;
}
