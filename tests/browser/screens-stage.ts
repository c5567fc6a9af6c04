import { join } from 'node:path';
import { chromium, type Browser, type Page } from 'playwright-core';
import { inject } from 'vitest';
import type { Fake } from '../screens/fake.ts';
import { addressOf, SCREENS, type Screen } from './sheets/screens.ts';

declare global {
  interface Window {
    fake: Fake;
    axe: { run(options: object): Promise<{ violations: Violation[] }> };
  }
}
interface Violation {
  readonly id: string;
  readonly nodes: readonly { readonly html: string }[];
}

/** The screens over a double, built and served, and a browser to open them in. */
export interface Stage {
  readonly browser: Browser;
  readonly url: string;
  /** A screen on its own page; whatever the page complains of is on the list. */
  opened(
    screen: Screen,
    theme: string,
    size?: readonly [number, number],
  ): Promise<{ page: Page; complaints: string[] }>;
  close(): Promise<void>;
}

export async function stageOf(): Promise<Stage> {
  const file = join(process.cwd(), 'tests/screens/page/serve.mjs');
  const { servePage } = (await import(/* @vite-ignore */ file)) as {
    servePage: () => Promise<{ url: string; close: () => Promise<void> }>;
  };
  const served = await servePage();
  const browser = await chromium.launch({ executablePath: inject('chromium') });
  return {
    browser,
    url: served.url,
    opened: (screen, theme, size = [390, 844]) => opened(browser, served.url, screen, theme, size),
    close: async () => {
      await browser.close();
      await served.close();
    },
  };
}

async function opened(
  browser: Browser,
  url: string,
  screen: Screen,
  theme: string,
  size: readonly [number, number],
): Promise<{ page: Page; complaints: string[] }> {
  // The policy forbids our own axe script too; everything else is as served.
  const context = await browser.newContext({
    viewport: { width: size[0], height: size[1] },
    bypassCSP: true,
  });
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on('pageerror', (e) => complaints.push(e.message));
  page.on('console', (m) => {
    // Names of features that this Chromium does not know are not ours to mend here.
    if (m.type() === 'error' && !m.text().includes('Permissions-Policy')) complaints.push(m.text());
  });
  await page.goto(addressOf(url, screen, theme));
  await page.waitForSelector(screen.waits);
  return { page, complaints };
}

export function screenOf(name: string): Screen {
  const found = SCREENS.find((s) => s.name === name);
  if (found === undefined) throw new Error(`There is no screen "${name}".`);
  return found;
}

/**
 * What is pressed and cannot be: something lies over the middle of it. What is
 * scrolled out of its own box is not there to be pressed, and is left out.
 */
export function covered(page: Page): Promise<readonly string[]> {
  return page.$$eval('a[href], button, input, select, textarea, summary', (all) =>
    all.flatMap((e) => {
      if (!(e instanceof HTMLElement) || e.offsetParent === null) return [];
      const target = e.closest('label') ?? e;
      const box = target.getBoundingClientRect();
      const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
      if (x < 0 || y < 0 || x > innerWidth || y > innerHeight) return [];
      for (let up = target.parentElement; up !== null; up = up.parentElement) {
        if (getComputedStyle(up).overflowY !== 'auto') continue;
        const frame = up.getBoundingClientRect();
        if (y < frame.top || y > frame.bottom) return [];
      }
      // A bar that stays while the page scrolls is an edge of the page: below it is not yet there.
      const bars = [...document.querySelectorAll('*')].filter(
        (b) => getComputedStyle(b).position === 'sticky' && !b.contains(target),
      );
      if (bars.some((b) => y > b.getBoundingClientRect().top)) return [];
      const on = document.elementFromPoint(x, y);
      return target.contains(on)
        ? []
        : [`${target.textContent ?? ''}: ${on?.className ?? 'nothing'} lies over it`];
    }),
  );
}

/** How far the page sticks out to the right, px. */
export function sideways(page: Page): Promise<number> {
  return page.evaluate(
    () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
  );
}

/** Whether it is whole on the first screenful. */
export async function isWhole(page: Page, selector: string): Promise<boolean> {
  const boxes = await page.$$eval(selector, (all) =>
    all.map((e) => {
      const box = e.getBoundingClientRect();
      const on = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
      return box.top >= 0 && box.bottom <= innerHeight && box.height > 0 && e.contains(on);
    }),
  );
  return boxes.length > 0 && boxes.every(Boolean);
}
