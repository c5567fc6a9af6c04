import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { backupOf } from '../bench/store/many-walks.ts';
import { rawZip } from '../store/raw-zip.ts';
import { APP, serveFolder, startChromium } from './store-chromium.ts';

/** Issue 14, 8 and 9, in Chromium with the built app: many walks, and a small file that would cost much. */
const WALKS = 120;
const ENTRIES = 20_000;
/** It took 59 s; a busy machine needs 5. */
const SECONDS = 30;

let browser: Browser;
let server: Awaited<ReturnType<typeof serveFolder>>;
let folder: string;
let many: string;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'talkround-growth-'));
  const { file } = await backupOf(WALKS);
  many = join(folder, 'many.zip');
  writeFileSync(many, new Uint8Array(await file.arrayBuffer()));
  [browser, server] = await Promise.all([startChromium(), serveFolder(APP)]);
});
afterAll(async () => {
  await browser.close();
  await server.close();
  rmSync(folder, { recursive: true, force: true });
});

async function walks(): Promise<Page> {
  const page = await (await browser.newContext()).newPage();
  await page.goto(`http://localhost:${server.port}/#/walks`);
  await page.getByRole('heading', { name: 'Bring in' }).waitFor();
  return page;
}

test('14.8: a restore shows a bar, can be stopped, and goes on with the same file; the list shows the latest and asks for older ones', async () => {
  const page = await walks();
  await page.locator('input[type=file]').setInputFiles(many);
  await page.getByRole('progressbar').waitFor();
  await page.getByRole('button', { name: 'Stop' }).click();
  await page
    .getByText(/Stopped/)
    .first()
    .waitFor();
  expect(await page.getByRole('progressbar').count()).toBe(0);

  await page.locator('input[type=file]').setInputFiles(many);
  await page
    .getByText(/Events: \d+ restored/)
    .first()
    .waitFor();
  const older = page.getByRole('button', { name: `Show older, 50 of ${WALKS} are here` });
  await older.waitFor();
  expect(await page.locator('.walk-list > li').count()).toBe(50);
  // Those that are shown are counted, and no others.
  await expect.poll(() => page.getByText('counting …').count(), { timeout: 30_000 }).toBe(0);
  await older.click();
  expect(await page.locator('.walk-list > li').count()).toBe(100);

  // What was counted is there at once when the page is loaded again.
  await expect.poll(() => page.getByText('counting …').count(), { timeout: 30_000 }).toBe(0);
  await page.reload();
  await page.locator('.walk-list > li').first().waitFor();
  expect(await page.getByText('counting …').count()).toBe(0);
  await page.context().close();
});

test('14.9: 20,000 entries in a zip are refused in one sentence, and the page goes on', async () => {
  const page = await walks();
  const names = Array.from({ length: ENTRIES }, (_, i) => `e/${i}`);
  const file = join(folder, 'empty.zip');
  writeFileSync(file, rawZip(names.map((path) => ({ path, data: new Uint8Array(0) }))));
  const began = performance.now();
  await page.locator('input[type=file]').setInputFiles(file);
  await page.getByText('This zip has more than 100 empty entries').first().waitFor();
  expect((performance.now() - began) / 1000).toBeLessThan(SECONDS);
  await page.getByRole('heading', { name: 'Bring in' }).waitFor();
  await page.context().close();
});
