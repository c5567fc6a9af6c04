import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, type Browser } from 'playwright-core';
import { writeWav } from '../../src/capture/signal/wav.ts';

/** A Chromium that hears these samples as its microphone, once, and may use it unasked. */
export async function hearing(
  samples: Float32Array,
  rate: number,
): Promise<{ browser: Browser; close(): Promise<void> }> {
  const folder = mkdtempSync(join(tmpdir(), 'talkround-hearing-'));
  const file = join(folder, 'microphone.wav');
  writeFileSync(file, writeWav(samples, rate));
  const browser = await chromium.launch({
    executablePath: process.env['CHROMIUM'] ?? '/usr/bin/chromium',
    args: [
      '--no-sandbox',
      '--use-fake-ui-for-media-stream',
      '--use-fake-device-for-media-stream',
      `--use-file-for-fake-audio-capture=${file}%noloop`,
      '--autoplay-policy=no-user-gesture-required',
    ],
  });
  return {
    browser,
    async close() {
      await browser.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
