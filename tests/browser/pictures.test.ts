import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { recordOf } from './listening-chromium.ts';
import { CAMERA, photograph } from './pictures-made.ts';
import { APP, serveFolder, startChromium } from './store-chromium.ts';

/*
 * Issue 16: the whole way of a photograph in Chromium with the built app: taken
 * during the walk, on the finish, the sheet, the squawk and the documents, in a
 * backup and on another device, gone, and erased.
 */

const AIRCRAFT = 'Rowan 2';
let browser: Browser;
let server: Awaited<ReturnType<typeof serveFolder>>;
const folder = mkdtempSync(join(tmpdir(), 'talkround-pictures-'));
beforeAll(async () => {
  [browser, server] = await Promise.all([startChromium(), serveFolder(APP)]);
}, 60_000);
afterAll(async () => {
  await browser.close();
  await server.close();
  rmSync(folder, { recursive: true, force: true });
});

async function device(): Promise<Page> {
  const context = await browser.newContext({
    viewport: { width: 390, height: 844 },
    acceptDownloads: true,
  });
  const page = await context.newPage();
  await page.goto(`http://localhost:${server.port}/`);
  return page;
}

async function go(page: Page, to: string): Promise<void> {
  await page.evaluate((hash) => {
    window.location.hash = hash;
  }, to);
}

async function fileOf(page: Page, press: string): Promise<string> {
  const given = page.waitForEvent('download');
  await page.getByRole('button', { name: press, exact: true }).first().click();
  const download = await given;
  const path = join(folder, `${Date.now()}-${download.suggestedFilename()}`);
  await download.saveAs(path);
  return path;
}

const jpeg = (buffer: Buffer, name = 'IMG_1.jpg') => ({ name, mimeType: 'image/jpeg', buffer });

/** What of a picture lies on the disk, and how large it is shown. The page's own policy forbids to fetch it. */
async function bytesOf(page: Page): Promise<{ text: string; size: readonly number[] }> {
  const size = await page
    .locator('.picture img')
    .first()
    .evaluate(async (e) => {
      const image = e as HTMLImageElement;
      await image.decode();
      return [image.naturalWidth, image.naturalHeight];
    });
  const bytes = await page.evaluate(
    () =>
      new Promise<number[]>((resolve, reject) => {
        const open = indexedDB.open('talkround');
        open.onerror = () => reject(open.error ?? new Error('closed'));
        open.onsuccess = () => {
          const all = open.result.transaction('sounds').objectStore('sounds').getAll();
          all.onerror = () => reject(all.error ?? new Error('unread'));
          all.onsuccess = () => {
            open.result.close();
            const rows = all.result as { mime: string; data: ArrayBuffer }[];
            const first = rows.find((row) => row.mime === 'image/jpeg');
            resolve([...new Uint8Array(first?.data ?? new ArrayBuffer())]);
          };
        };
      }),
  );
  return { text: Buffer.from(bytes).toString('latin1'), size };
}

/** For whoever wants to see what was tested: PICTURES_TO=folder. */
async function look(page: Page, name: string): Promise<void> {
  const to = process.env['PICTURES_TO'];
  if (to !== undefined) await page.screenshot({ path: join(to, `${name}.png`) });
}

/** Pictures that a PDF holds: each a stream of JPEG. */
const inPdf = (path: string) => readFileSync(path, 'latin1').split('/DCTDecode').length - 1;

async function begin(page: Page): Promise<void> {
  await page.getByText('Who walks, and what listens').click();
  await page.getByLabel('Words come from').selectOption('typed');
  await page.getByText('Training helicopter').first().click();
  await page.getByLabel(/What do you call it/).fill(AIRCRAFT);
  await page.getByRole('button', { name: 'Begin the walk' }).click();
  await page
    .getByRole('textbox', { name: 'Type instead of speaking' })
    .fill('left skid tube is cracked, ground it');
  await page.getByRole('button', { name: 'Say', exact: true }).click();
}

test('R10 16: one touch photographs a finding; the picture goes the whole way of the walk', async () => {
  const page = await device();
  await begin(page);
  const camera = page.locator('.said input[capture=environment]');
  await camera.waitFor({ state: 'attached' });
  // In reach without scrolling, as large as every touch of the walk.
  const box = await page.locator('.said .take-picture').boundingBox();
  expect(box === null ? 0 : box.y + box.height).toBeLessThan(844 / 2);
  expect(box?.height).toBeGreaterThanOrEqual(48);

  // Bad input: one sentence each, and nothing is kept.
  const bad: readonly [Buffer, string, RegExp][] = [
    [Buffer.from('minutes of the meeting'), 'IMG_2.jpg', /“IMG_2\.jpg” is not a picture\./],
    [(await photograph(page, 300, 200)).subarray(0, 300), 'IMG_3.jpg', /damaged or cut off/],
    [
      Buffer.from('\0\0\0\x18ftypheic\0\0\0\0mif1heic', 'latin1'),
      'IMG_4.HEIC',
      /cannot read HEIC pictures/,
    ],
  ];
  for (const [buffer, name, sentence] of bad) {
    await camera.setInputFiles(jpeg(buffer, name));
    await page.locator('.told').getByText(sentence).waitFor();
    await page.locator('.told .press').click();
  }
  expect(await page.locator('.picture').count()).toBe(0);

  const taken = await photograph(page, 4000, 3000);
  expect(taken.toString('latin1')).toContain(CAMERA);
  await camera.setInputFiles(jpeg(taken));
  await page.locator('.pictured .picture img').waitFor();

  await look(page, 'walk');
  // Upright, smaller, and without the camera's own words.
  const shown = await bytesOf(page);
  expect(shown.size).toEqual([1200, 1600]);
  expect(shown.text.startsWith('\xff\xd8')).toBe(true);
  for (const word of [CAMERA, 'Exif', 'GPS', 'ICC_PROFILE', 'http'])
    expect([word, shown.text.includes(word)]).toEqual([word, false]);

  // Another visit: it is on the disk.
  await page.reload();
  await page.getByRole('button', { name: 'Go on with it' }).first().click();
  await page.locator('.pictured .picture img').waitFor();

  await page.getByRole('link', { name: 'Finish the walk' }).click();
  await page.locator('.found-one .picture img').waitFor();
  await look(page, 'finish');
  await page.getByRole('button', { name: /^Finish with \d+ gaps$/ }).click();
  await page.getByText('Ground it', { exact: true }).last().click();
  await page.getByLabel('Name', { exact: true }).fill('M. Alder');
  await page.getByRole('button', { name: 'Sign', exact: true }).click();
  await page.locator('.sheet-foot').getByText('sealed and whole').waitFor();
  await page.locator('.finding .picture img').waitFor();
  expect(inPdf(await fileOf(page, 'PDF'))).toBe(1);
  await look(page, 'sheet');
  const sheet = page.url();

  // The squawk shows it too, and takes another after the signature.
  await go(page, `#/squawks/${encodeURIComponent(AIRCRAFT)}`);
  await page.locator('li.squawk summary').first().click();
  await page.locator('.squawk .picture img').waitFor();
  const second = page.locator('.squawk .take-pictures input').last();
  await second.setInputFiles(jpeg(await photograph(page, 640, 480), 'IMG_5.jpg'));
  await page.locator('.squawk .picture img').nth(1).waitFor();
  expect(inPdf(await fileOf(page, 'Discrepancy list'))).toBe(2);

  await look(page, 'squawk');
  // A backup on another device.
  await go(page, '#/walks');
  const backup = await fileOf(page, 'Back up to a file');
  const other = await device();
  await other.goto(`http://localhost:${server.port}/#/walks`);
  await other.locator('.drop input[type=file]').setInputFiles(backup);
  await other.locator('.told .notice').getByText('Pictures: 2 restored').waitFor();
  const walk = sheet.split('#')[1] ?? '';
  await other.goto(`http://localhost:${server.port}/#${walk}`);
  await other.locator('.finding .picture img').waitFor();
  expect((await bytesOf(other)).text === shown.text).toBe(true);

  // Its bytes are gone there: said in its place, on the screen and on paper.
  await other.evaluate(
    () =>
      new Promise<void>((resolve, reject) => {
        const open = indexedDB.open('talkround');
        open.onerror = () => reject(open.error ?? new Error('closed'));
        open.onsuccess = () => {
          const cleared = open.result.transaction('sounds', 'readwrite');
          cleared.objectStore('sounds').clear();
          cleared.oncomplete = () => {
            open.result.close();
            resolve();
          };
        };
      }),
  );
  await other.reload();
  await other.locator('.finding').getByText('it is not on this device').waitFor();
  await look(other, 'gone');
  expect(inPdf(await fileOf(other, 'PDF'))).toBe(0);

  // Erased on request: a reason, for good; the log holds.
  await page.goto(sheet);
  await page.locator('.finding .picture').click();
  await page.getByRole('button', { name: 'Erase this picture …' }).click();
  await page.getByLabel('Why is it erased?').fill('a face is in it');
  await page.getByRole('button', { name: 'Erase it', exact: true }).click();
  await page.locator('.finding').getByText('erased on request: a face is in it').waitFor();
  await page.reload();
  await page.locator('.finding').getByText('erased on request').waitFor();
  await page.locator('.sheet-foot').getByText('sealed and whole').waitFor();
  const kinds = (await recordOf(page)).map((e) => e.what.kind);
  expect(kinds.filter((k) => k.startsWith('picture-'))).toEqual([
    'picture-kept',
    'picture-kept',
    'picture-erased',
  ]);
}, 300_000);
