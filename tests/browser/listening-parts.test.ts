import { createServer, type ViteDevServer } from 'vite';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Page } from 'playwright-core';
import { joined, RATE, say } from '../speech/voice.ts';
import { hearing } from './listening-chromium.ts';
import type { Harness } from './pages/listening.ts';

/*
 * What only a real browser can show: that the recorder's slices join to the
 * sound that was heard, that tones sound, and what happens without a voice.
 */

let server: ViteDevServer;
let page: Page;
let close: () => Promise<void>;
let places: { from: number; to: number }[];

beforeAll(async () => {
  server = await createServer({
    logLevel: 'error',
    server: { port: 0, hmr: false, watch: null },
    optimizeDeps: { noDiscovery: true },
  });
  await server.listen();
  const speech = joined(
    [await say('belts good', 'slt'), await say('left tyre good', 'rms')],
    1,
    RATE,
  );
  places = speech.places;
  const heard = await hearing(speech.samples, RATE);
  close = heard.close;
  page = await heard.browser.newPage();
  await page.goto(`${server.resolvedUrls?.local[0] ?? ''}tests/browser/pages/listening.html`);
  await page.waitForFunction(() => 'harness' in window);
}, 120_000);

afterAll(async () => {
  await close();
  await server.close();
});

test('the sound of the microphone is kept in slices within 2 s, and joined it is what was said', async () => {
  const length = (places.at(-1)?.to ?? 0) + 1.5;
  const kept = await page.evaluate((n) => window.harness.record(n), length);
  expect(kept.ok).toBe(true);
  if (!kept.ok) return;
  expect(kept.mime).toContain('opus');
  expect(kept.missing).toEqual([]);
  expect(kept.numbers).toEqual(kept.numbers.map((_, i) => i));
  expect(kept.numbers.length).toBeGreaterThanOrEqual(3);
  // Every slice, counted from its own first sample, was in our hands within 2 s.
  expect(kept.latest).toBeLessThan(2);
  expect(Math.abs(kept.seconds - length)).toBeLessThan(1);
  expect(kept.place?.to).toBeCloseTo((kept.place?.from ?? 0) + 0.5, 3);
  // The level: silence cannot pass for speech. Two stretches of speech with silence between.
  const loud = kept.tenths.map((x) => x > 0.02);
  const stretches = loud.filter((x, i) => x && loud.slice(Math.max(0, i - 5), i).every((y) => !y));
  expect(stretches.length).toBe(2);
  expect(Math.max(...kept.tenths)).toBeGreaterThan(0.05);
});

test('the tap passes every sample on, and tells speech from silence', async () => {
  // The file begins anew with each opening of the microphone.
  const heard = await page.evaluate((n) => window.harness.listen(n), (places[0]?.to ?? 0) + 1);
  expect(heard).not.toBe(null);
  if (heard === null) return;
  expect(heard.seconds).toBeGreaterThan((places[0]?.to ?? 0) + 0.4);
  expect(Math.max(...heard.levels)).toBeGreaterThan(0.5);
  expect(Math.min(...heard.levels)).toBeLessThan(0.1);
});

test('every tone sounds to its end', async () => {
  const names = await page.evaluate(() => window.harness.earcons);
  for (const name of names) {
    const done = await page.evaluate(
      (n) => window.harness.sound(n as Parameters<Harness['sound']>[0]),
      name,
    );
    expect(done.state).toBe('running');
    expect(done.milliseconds).toBeGreaterThan(60);
    expect(done.milliseconds).toBeLessThan(3000);
  }
});

test('saying ends in time, with a voice or without one', async () => {
  const answer = await page.evaluate(() => window.harness.speak('Left or right brake line?'));
  expect(answer.able).toBe(true);
  // Sounded to its end, or given up within the time that a voice has to begin.
  expect(answer.milliseconds).toBeLessThan(answer.said ? 8000 : 4000);
});

test('the headset button can reach the page while silence plays', async () => {
  await page.click('#touch');
  expect(await page.evaluate(() => window.harness.buttons())).toEqual({
    reached: true,
    state: 'playing',
  });
});

test('the screen is kept on', async () => {
  expect(await page.evaluate(() => window.harness.awake())).toBe(true);
});
