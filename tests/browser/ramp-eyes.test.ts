import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { covered, isWhole, screenOf, stageOf, type Stage } from './screens-stage.ts';
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

test.concurrent.each(SCREENS.filter((s) => s.at === '/' || s.at === '/finish'))(
  '$name: whatever is come to stands clear of the bar below (WCAG 2.4.11)',
  async (screen) => {
    const { page } = await stage.opened(screen, 'light', PHONE);
    const behind = await page.$$eval('main a[href], main button, main input, main summary', (all) =>
      all.flatMap((e) => {
        if (!(e instanceof HTMLElement) || e.offsetParent === null || e.matches(':disabled'))
          return [];
        e.focus();
        // What is folded away cannot be come to.
        if (document.activeElement !== e) return [];
        const target = e.closest('label') ?? e;
        // The first line of it: the middle of a link over two lines lies beside both.
        const [box] = target.getClientRects();
        if (box === undefined) return [];
        const on = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
        return target.contains(on) ? [] : [`${target.textContent ?? ''}: ${on?.className ?? ''}`];
      }),
    );
    expect(behind).toEqual([]);
    await page.context().close();
  },
);

test.each([
  ['tablet', [820, 1180]],
  ['desk', [1280, 800]],
] as const)('%s: the drawing stands on the left, the words on the right', async (_, size) => {
  for (const name of ['Walk', 'Walk, a question', 'Walk, photographed']) {
    const { page } = await stage.opened(screenOf(name), 'light', size);
    const plan = await page.locator('.walk-plan').boundingBox();
    expect(plan?.width, name).toBeGreaterThan(size[0] / 3);
    expect(plan?.height, name).toBeGreaterThan(size[1] / 2);
    for (const words of ['.walk-first', '.walk-now']) {
      const box = await page.locator(words).boundingBox();
      expect(box?.x, `${name} ${words}`).toBeGreaterThanOrEqual(
        (plan?.x ?? 0) + (plan?.width ?? 0),
      );
    }
    expect(await page.locator('.where-plan').isVisible(), name).toBe(false);
    await page.context().close();
  }
});

test('the ear check is offered on Begin where the last walk was heard badly, and only there', async () => {
  const { page } = await stage.opened(screenOf('Begin'), 'light', PHONE);
  const offer = page.getByRole('link', { name: 'Ear check' });
  expect(await offer.count()).toBe(0);
  await page.evaluate(() => {
    const { choices } = window.fake.parts;
    choices.set({ ...choices.get(), heardBadly: true });
  });
  await offer.click();
  await page.getByRole('heading', { level: 1, name: 'Ear check' }).waitFor();
  await page.context().close();
});

test('Ear check: the phrase to read is the largest, with level, what was understood, and what to change', async () => {
  const { page } = await stage.opened(screenOf('Ear check'), 'light', PHONE);
  const sizes = await page.$$eval('.ear-check li, .ear-check p', (all) =>
    all.map((e) => ({
      now: e.classList.contains('is-now'),
      size: Number.parseFloat(getComputedStyle(e).fontSize),
    })),
  );
  const now = sizes.find((s) => s.now)?.size ?? 0;
  for (const other of sizes.filter((s) => !s.now)) expect(other.size).toBeLessThan(now);
  expect(await isWhole(page, '.check-phrases li')).toBe(true);
  for (const words of ['understood', 'not understood'])
    expect(await page.getByText(words, { exact: true }).count(), words).toBe(1);
  expect((await page.locator('.check-level').boundingBox())?.width).toBeGreaterThan(0);
  await page.getByText(/The voice is faint: bring the microphone closer/).waitFor();
  await page.context().close();
});

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
