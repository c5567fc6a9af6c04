import { existsSync, statSync } from 'node:fs';
import { quantileSorted } from 'simple-statistics';
import { FIRST_SCENE } from '#shared/scene';
import { heardOf } from '../grammar/ours.ts';
import { longUtterances, syntheticCatalogue } from '../grammar/speed.ts';
import type { NamedReader } from './readers.ts';

/** Milliseconds that an utterance of 25 words takes. */
export interface ReaderSpeed {
  readonly p50Ms: number;
  readonly p95Ms: number;
}

/** Phrases of the catalogue: names and other names, those of a middling aircraft. */
const PHRASES = 400;
const RUNS = 400;
/** The first readings warm the compiler up and are not counted. */
const WARM = 60;
const SEED = 7;

/** Times a reader over one conversation, so that what was said before is carried as in a walk. */
export function readerSpeed({ build }: NamedReader, runs = RUNS): ReaderSpeed | null {
  if (build === null) return null;
  const catalogue = syntheticCatalogue(PHRASES);
  const reader = build(catalogue);
  let scene = FIRST_SCENE;
  const times = longUtterances(catalogue, runs + WARM, SEED).map((text, i) => {
    const heard = heardOf(text, `speed-${i}`);
    const from = performance.now();
    const reading = reader.read(heard, scene);
    const took = performance.now() - from;
    scene = reading.scene;
    return took;
  });
  const sorted = times.slice(WARM).sort((a, b) => a - b);
  return { p50Ms: quantileSorted(sorted, 0.5), p95Ms: quantileSorted(sorted, 0.95) };
}

/** Size of a file of weights in kB of 1,000 bytes; 0 while there is none. */
export function weightsKb(file: string | null): number {
  return file === null || !existsSync(file) ? 0 : Math.ceil(statSync(file).size / 1000);
}
