import { createServer, type ViteDevServer } from 'vite';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Page } from 'playwright-core';
import { joined, RATE, say } from '../speech/voice.ts';
import { hearing } from './listening-chromium.ts';

/* Our own recogniser in a real browser: worklet, worker, model, microphone from a sound file. */

const SAID = ['begin', 'seat belts are good', 'left skid tube is cracked', 'finish'] as const;

let server: ViteDevServer;
let page: Page;
let close: () => Promise<void>;
let end = 0;

beforeAll(async () => {
  server = await createServer({
    logLevel: 'error',
    server: { port: 0, hmr: false, watch: null },
    optimizeDeps: { include: ['soundswallower'] },
  });
  await server.listen();
  const pieces: Float32Array[] = [new Float32Array(RATE * 8)];
  for (const text of SAID) pieces.push(await say(text, 'slt'));
  const speech = joined(pieces, 1.5);
  end = speech.places.at(-1)?.to ?? 0;
  const heard = await hearing(speech.samples, RATE);
  close = heard.close;
  page = await heard.browser.newPage();
  await page.goto(`${server.resolvedUrls?.local[0] ?? ''}tests/browser/pages/own.html`);
  await page.waitForFunction(() => 'own' in window);
}, 120_000);

afterAll(async () => {
  await close();
  await server.close();
});

test('it hears, in order, with times and the place of the sound', async () => {
  await page.evaluate(() => window.own.start('training-helicopter'));
  await page.waitForTimeout((end + 4) * 1000);
  const report = await page.evaluate(() => window.own.report());
  // Level first: silence cannot pass.
  expect(report.loudest).toBeGreaterThan(0.5);
  expect(report.heard.map((h) => h.text)).toEqual(SAID);
  expect(report.heard.every((h) => h.kept)).toBe(true);
  for (const [i, h] of report.heard.entries()) {
    expect(h.to ?? 0).toBeGreaterThan(h.from ?? 0);
    expect(h.from ?? 0).toBeGreaterThan(report.heard[i - 1]?.to ?? 0);
  }
  expect(report.log.filter((l) => l.includes('trouble'))).toEqual([]);
});
