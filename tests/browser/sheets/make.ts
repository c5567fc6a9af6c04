import { mkdirSync, statSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { chromium } from 'playwright-core';
import { addressOf, SCREENS, SIZES, THEMES, type Screen } from './screens.ts';

const OUT = 'tests/browser/sheets/contact-sheet.jpg';
/** One pixel of the sheet for so many of a screen. */
const SMALLER = 0.25;

/**
 * Draws the contact sheet: every screen, both themes, four sizes, and the walk
 * in red. Run by `node tests/load.mjs tests/browser/sheets/make.ts`.
 */
export async function main(words: string[]): Promise<number> {
  const out = words[0] ?? OUT;
  const page = '/tests/screens/page/serve.mjs';
  const { servePage } = (await import(/* @vite-ignore */ `${process.cwd()}${page}`)) as {
    servePage: () => Promise<{ url: string; close: () => Promise<void> }>;
  };
  const served = await servePage();
  const browser = await chromium.launch({
    executablePath: process.env['CHROMIUM'] ?? '/usr/bin/chromium',
  });
  const rows: string[] = [];
  const shoot = async (
    screen: Screen,
    theme: string,
    sizes: readonly (readonly [number, number])[],
  ): Promise<string[]> => {
    const tab = await browser.newPage();
    const out: string[] = [];
    await tab.goto(addressOf(served.url, screen, theme));
    await tab.waitForSelector(screen.waits);
    await tab.evaluate(() => document.fonts.ready);
    for (const [width, height] of sizes) {
      await tab.setViewportSize({ width, height });
      await tab.waitForTimeout(120);
      const shot = await tab.screenshot({ type: 'jpeg', quality: 82 });
      const small = Math.round(width * SMALLER);
      out.push(
        `<img src="data:image/jpeg;base64,${shot.toString('base64')}" style="width:${small}px">`,
      );
    }
    await tab.close();
    return out;
  };
  for (const screen of SCREENS) {
    const cells: string[] = [];
    for (const theme of THEMES) cells.push(...(await shoot(screen, theme, SIZES)));
    rows.push(`<section><h2>${screen.name}</h2><div>${cells.join('')}</div></section>`);
  }
  const red: string[] = [];
  for (const name of ['Begin', 'Walk', 'Walk, a question', 'Walk, demanded', 'Sheet']) {
    const screen = SCREENS.find((s) => s.name === name);
    if (screen !== undefined) red.push(...(await shoot(screen, 'red', SIZES.slice(0, 2))));
  }
  rows.push(`<section><h2>Night red</h2><div>${red.join('')}</div></section>`);
  const sheet = await browser.newPage({ viewport: { width: 2000, height: 1000 } });
  await sheet.setContent(
    `<style>body{margin:24px;font:600 18px sans-serif;background:#d5d8dc;color:#10151c}
     section{margin-bottom:20px}h2{font-size:18px;margin:0 0 6px}
     div{display:flex;flex-wrap:wrap;gap:10px;align-items:flex-start}</style>${rows.join('')}`,
  );
  mkdirSync(dirname(out), { recursive: true });
  for (const quality of [72, 60, 48, 36, 28, 22]) {
    writeFileSync(out, await sheet.screenshot({ type: 'jpeg', quality, fullPage: true }));
    if (statSync(out).size < 1_000_000) break;
  }
  await browser.close();
  await served.close();
  process.stdout.write(`${out}, ${Math.round(statSync(out).size / 1000)} kB\n`);
  return 0;
}
