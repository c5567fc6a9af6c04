import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { PDFDocument } from 'pdf-lib';
import { APP, serveFolder, startChromium } from './store-chromium.ts';

/* Issue 16: "Print one page" is one page, of the longest of the sample walks too. */

let browser: Browser;
let server: Awaited<ReturnType<typeof serveFolder>>;
beforeAll(async () => {
  [browser, server] = await Promise.all([startChromium(), serveFolder(APP)]);
}, 60_000);
afterAll(async () => {
  await browser.close();
  await server.close();
});

async function broughtIn(
  page: Page,
  file: string,
  catalogue: string,
  buffer: Buffer,
): Promise<void> {
  await page.goto(`http://localhost:${server.port}/#/walks`);
  await page.locator('.drop input[type=file]').setInputFiles({
    name: `2026-02-14 0842 ${file}`,
    mimeType: 'text/plain',
    buffer,
  });
  const whose = page.locator('form.whose');
  await whose.getByLabel('Aircraft', { exact: true }).fill('Rowan 2');
  await whose.getByLabel('Catalogue').selectOption({ label: catalogue });
  await whose.getByLabel('Who flew').fill('M. Alder');
  await whose.getByRole('button', { name: 'Bring it in' }).click();
  await page.locator('.debrief h1').waitFor({ timeout: 60_000 });
}

/** Chooses the language of the screen, and comes back. */
async function inLanguage(page: Page, language: string): Promise<void> {
  await page.getByRole('link', { name: 'Settings' }).click();
  await page.getByRole('radio', { name: language }).check();
  await page.goBack();
  await page.locator('.debrief h1').waitFor();
}

const seed = (name: string) => readFileSync(join('seeds/walks', name));

/** A fault at each of a dozen things, everything else skipped. */
const FAULTS = ['left flap', 'left aileron', 'left brake disc', 'cowling', 'exhaust', 'spinner']
  .concat(['right flap', 'right aileron', 'rudder', 'elevator', 'tail ring', 'belly'])
  .map((part, i) => `${part} is ${i % 2 === 0 ? 'cracked' : 'dented'} aft of the rib`)
  .join('\n');

/** The sample walks with the most words, one of them a lesson; and one with more found than any of them. */
const WALKS: readonly (readonly [string, string, Buffer])[] = [
  ['instructor-teaching.srt', 'Training helicopter', seed('instructor-teaching.srt')],
  ['three-findings.txt', 'Training helicopter', seed('three-findings.txt')],
  ['a-dozen.txt', 'Training aeroplane', Buffer.from(FAULTS)],
];

test.each(WALKS)('16: %s prints on one page, A4 and Letter', async (file, catalogue, walk) => {
  const page = await (await browser.newContext()).newPage();
  await broughtIn(page, file, catalogue, walk);
  for (const language of ['English', 'Deutsch'] as const) {
    if (language !== 'English') await inLanguage(page, language);
    for (const format of ['A4', 'Letter'] as const) {
      const pdf = await page.pdf({ format, preferCSSPageSize: true });
      const to = process.env['PICTURES_TO'];
      if (to !== undefined) writeFileSync(join(to, `print-${file}-${language}-${format}.pdf`), pdf);
      const { length } = (await PDFDocument.load(pdf)).getPages();
      expect([language, format, length]).toEqual([language, format, 1]);
    }
  }
  await page.context().close();
});
