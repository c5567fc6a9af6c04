import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, inject, test } from 'vitest';
import { startChromium } from './store-chromium.ts';

/**
 * A sign of a hard landing, found by somebody who never asked for follow-ups:
 * what it demands has to be seen and heard there and then, and again at
 * "what's left" and on the sheet.
 */
let browser: Browser;
beforeAll(async () => {
  browser = await startChromium();
});
afterAll(() => browser?.close());

declare global {
  interface Window {
    /** What the app said aloud, in order. */
    aloud: string[];
  }
}

/** A voice that takes no time and keeps what it was given: headless Chromium has none of its own. */
async function withVoice(page: Page): Promise<void> {
  await page.addInitScript(() => {
    window.aloud = [];
    const synth = {
      getVoices: () => [],
      speak: (u: SpeechSynthesisUtterance) => {
        window.aloud.push(u.text);
        setTimeout(() => u.dispatchEvent(new Event('start')), 1);
        setTimeout(() => u.dispatchEvent(new Event('end')), 5);
      },
      cancel: () => undefined,
      pause: () => undefined,
      resume: () => undefined,
      addEventListener: () => undefined,
      removeEventListener: () => undefined,
      speaking: false,
      pending: false,
      paused: false,
    };
    Object.defineProperty(window, 'speechSynthesis', { value: synth });
  });
}

async function say(page: Page, words: string): Promise<void> {
  await page.getByRole('textbox', { name: 'Type instead of speaking' }).fill(words);
  await page.getByRole('button', { name: 'Say', exact: true }).click();
  await page.getByText(words, { exact: false }).first().waitFor();
}

test('a sign of a hard landing visibly and audibly demands its follow-ups (R7)', async () => {
  const page = await browser.newPage({ viewport: { width: 390, height: 844 } });
  await withVoice(page);
  await page.goto(inject('url'));
  await page.getByText('Who walks, and what listens').click();
  await page.getByLabel('Words come from').selectOption({ label: 'the keyboard only' });
  await page.getByRole('button', { name: 'Begin the walk' }).click();
  await page.getByRole('textbox', { name: 'Type instead of speaking' }).waitFor();

  await say(page, 'boom underside has a ripple, ground it');
  // Seen: the checks it demands, by name, and the caution.
  for (const text of [/cross tube spread/i, /boom attach/i, /mount bolts/i]) {
    await page.getByText(text).first().waitFor();
  }
  await page
    .getByText(/Maintenance decides after a hard landing/)
    .first()
    .waitFor();
  // Heard: the same.
  const aloud = () => page.evaluate(() => window.aloud.join(' '));
  await expect.poll(aloud).toMatch(/Maintenance decides after a hard landing/);
  await expect.poll(aloud).toMatch(/cross tube/i);

  // A blanket does not answer them, and they come first among what is left.
  await page.evaluate(() => {
    window.aloud.length = 0;
  });
  await say(page, "what's left");
  await expect.poll(aloud).toMatch(/demanded by a finding/i);

  await page.getByRole('link', { name: 'Finish the walk' }).click();
  await page
    .getByText(/demanded by a finding/i)
    .first()
    .waitFor();
  await page.close();
});
