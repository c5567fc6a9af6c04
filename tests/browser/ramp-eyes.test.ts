import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { covered, isWhole, stageOf, type Stage } from './screens-stage.ts';
import { SCREENS } from './sheets/screens.ts';

/** The phone in the hand. */
const PHONE = [390, 844] as const;

const WALKS = SCREENS.filter((s) => s.at === '/walk');

let stage: Stage;
beforeAll(async () => {
  stage = await stageOf();
});
afterAll(() => stage?.close());

/** Words in what is pressed or is a heading that stand on two lines: read as two words, or not at all. */
function broken(page: Page): Promise<readonly string[]> {
  return page.$$eval('.press, h1, h2, h3, .ear-word', (all) =>
    all.flatMap((e) => {
      const texts = document.createTreeWalker(e, NodeFilter.SHOW_TEXT);
      const out: string[] = [];
      for (let text = texts.nextNode(); text !== null; text = texts.nextNode()) {
        for (const word of (text.textContent ?? '').matchAll(/[\p{L}\p{N}]{2,}/gu)) {
          const range = document.createRange();
          range.setStart(text, word.index);
          range.setEnd(text, word.index + word[0].length);
          const lines = new Set([...range.getClientRects()].map((r) => Math.round(r.top)));
          if (lines.size > 1) out.push(word[0]);
        }
      }
      return out;
    }),
  );
}

async function largeText(page: Page): Promise<void> {
  await page.evaluate(() => {
    document.documentElement.style.fontSize = '200%';
  });
  await page.waitForTimeout(100);
}

test.concurrent.each(SCREENS)(
  '$name: no word is broken on the phone, in English, in German and in large text',
  async (screen) => {
    const { page } = await stage.opened(screen, 'light', PHONE);
    expect(await broken(page), 'English').toEqual([]);
    await page.evaluate(() => window.fake.change({ language: 'de' }));
    await page.waitForFunction(() => document.documentElement.lang === 'de');
    expect(await broken(page), 'German').toEqual([]);
    await page.evaluate(() => window.fake.change({ language: 'en' }));
    await page.waitForFunction(() => document.documentElement.lang === 'en');
    await largeText(page);
    expect(await broken(page), 'English, 200 %').toEqual([]);
    await page.context().close();
  },
);

/** Share of the phone that the bars below may take at 200 % text. */
const BARS = 0.5;

test.concurrent.each(WALKS)(
  '$name: in large text half of the phone is left for what is read, and nothing is covered',
  async (screen) => {
    const { page } = await stage.opened(screen, 'light', PHONE);
    await largeText(page);
    const bars = await page.$$eval('.walk-type, .hands', (all) =>
      all.reduce((sum, e) => sum + e.getBoundingClientRect().height, 0),
    );
    expect(bars).toBeLessThan(PHONE[1] * BARS);
    expect(await covered(page)).toEqual([]);
    for (const always of ['.hands .press', '.typed input', '.typed .press']) {
      expect(await isWhole(page, always), always).toBe(true);
    }
    await page.context().close();
  },
);

/** Most green and blue for the red of a pixel: the course colour of the night, and rounding. */
const GREEN = 0.56;
const BLUE = 0.5;
/** Below this a pixel gives no light worth the name. */
const DARK = 24;

test.concurrent.each(SCREENS)(
  '$name: at night no light but red, photographs and boxes to tick included',
  async (screen) => {
    const { page } = await stage.opened(screen, 'red', PHONE);
    await page.evaluate(() => document.fonts.ready);
    const shot = (await page.screenshot({ type: 'png' })).toString('base64');
    const other = await page.evaluate(
      async ([png, green, blue, dark]) => {
        const bytes = Uint8Array.from(atob(png), (c) => c.charCodeAt(0));
        const image = await createImageBitmap(new Blob([bytes], { type: 'image/png' }));
        const pen = new OffscreenCanvas(image.width, image.height).getContext('2d');
        if (pen === null) throw new Error('There is nothing to draw on.');
        pen.drawImage(image, 0, 0);
        const { data } = pen.getImageData(0, 0, image.width, image.height);
        let count = 0;
        for (let i = 0; i < data.length; i += 4) {
          const [r = 0, g = 0, b = 0] = data.subarray(i, i + 3);
          if (Math.max(g, b) > dark && (g > r * green || b > r * blue)) count += 1;
        }
        return count;
      },
      [shot, GREEN, BLUE, DARK] as const,
    );
    expect(other).toBe(0);
    await page.context().close();
  },
);
