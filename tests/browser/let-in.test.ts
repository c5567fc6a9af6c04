import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import decodeQR from 'qr/decode.js';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { APP, serveFolder, startChromium } from './store-chromium.ts';

/*
 * Two devices and one walk, in Chromium with the built app: the code on one is
 * photographed and decoded by another program than the one that drew it, its
 * words are compared, the walk goes there as a file and comes back.
 */

let browser: Browser;
let server: Awaited<ReturnType<typeof serveFolder>>;
const folder = mkdtempSync(join(tmpdir(), 'talkround-let-in-'));
beforeAll(async () => {
  [browser, server] = await Promise.all([startChromium(), serveFolder(APP)]);
}, 60_000);
afterAll(async () => {
  await browser.close();
  await server.close();
  rmSync(folder, { recursive: true, force: true });
});

async function device(): Promise<Page> {
  // As sharp as the screen of a phone.
  const context = await browser.newContext({
    viewport: { width: 390, height: 844 },
    deviceScaleFactor: 2,
    acceptDownloads: true,
  });
  const page = await context.newPage();
  await page.goto(`http://localhost:${server.port}/`);
  return page;
}

/** What a camera reads of the code that is shown. */
async function readCode(page: Page): Promise<string> {
  const code = page.locator('.key-code').first();
  await code.scrollIntoViewIfNeeded();
  const png = (await code.screenshot()).toString('base64');
  const image = await page.evaluate(async (data) => {
    const bytes = Uint8Array.from(atob(data), (c) => c.charCodeAt(0));
    const bitmap = await createImageBitmap(new Blob([bytes], { type: 'image/png' }));
    const canvas = new OffscreenCanvas(bitmap.width, bitmap.height);
    const context = canvas.getContext('2d');
    if (context === null) throw new Error('no canvas');
    context.drawImage(bitmap, 0, 0);
    const { width, height } = bitmap;
    return { width, height, data: [...context.getImageData(0, 0, width, height).data] };
  }, png);
  return decodeQR({ ...image, data: Uint8Array.from(image.data) }, { timeLimit: 5000 });
}

async function say(page: Page, words: string): Promise<void> {
  await page.getByRole('textbox', { name: 'Type instead of speaking' }).fill(words);
  await page.getByRole('button', { name: 'Say', exact: true }).click();
  await page.locator('.said').getByText(words).waitFor();
}

async function fileOf(page: Page, press: string): Promise<string> {
  const given = page.waitForEvent('download');
  await page.getByRole('button', { name: press }).click();
  const download = await given;
  const path = join(folder, `${Date.now()}-${download.suggestedFilename()}`);
  await download.saveAs(path);
  return path;
}

async function bringIn(page: Page, file: string): Promise<void> {
  await page.goto(`http://localhost:${server.port}/#/walks`);
  await page.locator('.drop input[type=file]').setInputFiles(file);
  await page.locator('.told .notice').getByText('restored').waitFor();
  await page.locator('.told .press').click();
}

test('R6 R9 14: a second device is let in by its code, adds a finding, hands over, and the first one signs all of it', async () => {
  const [first, second] = [await device(), await device()];
  await first.getByText('Who walks, and what listens').click();
  await first.getByLabel('Words come from').selectOption('typed');
  await first.getByRole('button', { name: 'Begin the walk' }).click();
  await say(first, 'battery good');

  await second.goto(`http://localhost:${server.port}/#/settings`);
  await second.getByLabel('What this device is called').fill('School tablet');
  await second.getByLabel('What this device is called').blur();
  const shown = await second.locator('.key-words').first().innerText();
  await expect.poll(() => readCode(second), { timeout: 20_000 }).toContain('School tablet');
  const code = await readCode(second);
  expect(code).toContain(shown);

  await first.getByRole('link', { name: 'Second device' }).click();
  await first.getByRole('button', { name: 'Let another device in' }).click();
  await first.getByLabel(/paste what a camera reads/).fill(code);
  await first.getByRole('button', { name: 'Read the code' }).click();
  expect(await first.locator('dialog .key-words').innerText()).toBe(shown);
  await first.getByLabel('Who lets it in').fill('M. Alder');
  await first.getByRole('button', { name: 'The same words: let it in' }).click();
  await first.locator('.shared').getByText('School tablet').waitFor();
  const there = await fileOf(first, 'Give it this walk (a file)');

  await bringIn(second, there);
  await second.locator('.walk-line').first().click();
  await second.getByRole('button', { name: 'Go on with it here' }).click();
  await say(second, 'left skid tube is cracked, ground it');
  await second.getByRole('link', { name: 'Finish the walk' }).click();
  expect(await second.getByRole('button', { name: 'Sign' }).count()).toBe(0);
  const back = await fileOf(second, 'Hand over');

  await bringIn(first, back);
  await first.locator('.walk-line').first().click();
  await first.locator('.sheet-findings').getByText('cracked').first().waitFor();
  expect(await first.locator('.shared').innerText()).toContain('1 utterance counts');
  await first.goto(`http://localhost:${server.port}/#/finish`);
  await first.getByRole('button', { name: /^Finish with \d+ gaps$/ }).click();
  await first.getByText('Ground it', { exact: true }).last().click();
  await first.getByLabel('Name', { exact: true }).fill('M. Alder');
  await first.getByRole('button', { name: 'Sign', exact: true }).click();
  const foot = first.locator('.sheet-foot');
  await foot.getByText('sealed and whole').waitFor();
  expect(await first.locator('.seal-doubts').count()).toBe(0);

  // A note after the signature, with its words, who and when.
  await first.getByRole('button', { name: 'Add a note after signing' }).click();
  await first.getByLabel('Note', { exact: true }).fill('The crack was shown to maintenance.');
  await first.locator('dialog').getByLabel('Name').fill('M. Alder');
  await first.getByRole('button', { name: 'Add the note' }).click();
  await first.locator('.said-beside').getByText('The crack was shown to maintenance.').waitFor();
  expect(await first.locator('.said-beside').innerText()).toMatch(
    /Amended by M\. Alder, \d{4}-\d\d-\d\d \d\d:\d\d UTC/,
  );
  expect(await foot.innerText()).toContain('sealed and whole');
}, 120_000);
