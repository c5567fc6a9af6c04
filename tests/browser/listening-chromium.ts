import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, type Browser, type Page } from 'playwright-core';
import type { Event } from '#shared/event';
import { writeWav } from '../../src/capture/signal/wav.ts';

/** What makes a sound file the microphone, heard once and usable unasked. */
export function hearsFile(file: string): string[] {
  return [
    '--no-sandbox',
    '--use-fake-ui-for-media-stream',
    '--use-fake-device-for-media-stream',
    `--use-file-for-fake-audio-capture=${file}%noloop`,
    '--autoplay-policy=no-user-gesture-required',
  ];
}

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
    args: hearsFile(file),
  });
  return {
    browser,
    async close() {
      await browser.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** The whole record, oldest first, as it lies in the browser's database. */
export async function recordOf(page: Page): Promise<Event[]> {
  const texts = await page.evaluate(
    () =>
      new Promise<string[]>((resolve, reject) => {
        const open = indexedDB.open('talkround');
        open.onerror = () => reject(open.error ?? new Error('closed'));
        open.onsuccess = () => {
          const all = open.result.transaction('events').objectStore('events').getAll();
          all.onerror = () => reject(all.error ?? new Error('unread'));
          all.onsuccess = () => {
            open.result.close();
            resolve((all.result as { text: string }[]).map((row) => row.text));
          };
        };
      }),
  );
  return texts.map((text) => JSON.parse(text) as Event);
}
