import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium, type Page } from 'playwright-core';
import { backupOf } from './store/many-walks.ts';

/** Sizes that the issue names. */
const WALKS = [50, 500, 5000];
/** Openings of which the middle one counts. */
const ROUNDS = 5;

interface Row {
  readonly walks: number;
  readonly events: number;
  /** From the choice of the file to the sentence that says what was restored. */
  readonly restoreSeconds: number;
  /** Longest time in it that the page did not answer. */
  readonly restoreStallSeconds: number;
  /** From loading the page to the button that begins a walk. */
  readonly firstScreenSeconds: number;
  /** From the press on "Walks" to the list. */
  readonly walkListSeconds: number;
  /** From the press on a walk to its sheet. */
  readonly openWalkSeconds: number;
}

/**
 * `npm run bench:store [-- --json] [N …]`: how the app opens when its log grows, in
 * Chromium with the built app, its real database and its second copy.
 */
export async function main(words: string[]): Promise<number> {
  const json = words.includes('--json');
  const asked = words.filter((w) => /^\d+$/.test(w)).map(Number);
  for (const walks of asked.length > 0 ? asked : WALKS) {
    const row = await measure(walks);
    if (json) console.log(JSON.stringify(row));
    else
      console.log(
        `${String(row.walks).padStart(6)} walks  ${String(row.events).padStart(7)} events  restore ${row.restoreSeconds} s (stall ${row.restoreStallSeconds} s)  first screen ${row.firstScreenSeconds} s  list ${row.walkListSeconds} s  open ${row.openWalkSeconds} s`,
      );
  }
  return 0;
}

const plain = (path: string) =>
  import(/* @vite-ignore */ pathToFileURL(join(process.cwd(), path)).href);

async function measure(walks: number): Promise<Row> {
  const { ensureBuilt } = (await plain('src/serve/ensure.mjs')) as {
    ensureBuilt(target: string): Promise<void>;
  };
  await ensureBuilt('app');
  const { serve } = (await plain('src/serve/serve.mjs')) as {
    serve(o: { folder: string }): Promise<{ port: number; close(): Promise<void> }>;
  };
  const { findChromium } = (await plain('tests/chromium.mjs')) as {
    findChromium(): string | undefined;
  };
  const executablePath = process.env['CHROMIUM'] ?? findChromium();
  if (executablePath === undefined)
    throw new Error('This needs Chromium. Install it, or set CHROMIUM to its path.');
  const folder = mkdtempSync(join(tmpdir(), 'talkround-store-'));
  const server = await serve({ folder: join(process.cwd(), 'dist', 'app') });
  const made = await backupOf(walks);
  const backup = join(folder, 'many.zip');
  writeFileSync(backup, new Uint8Array(await made.file.arrayBuffer()));
  const browser = await chromium.launchPersistentContext(join(folder, 'profile'), {
    executablePath,
    args: ['--no-sandbox'],
  });
  try {
    const url = `http://localhost:${server.port}/`;
    const page = await browser.newPage();
    await page.goto(url);
    const restore = await restored(page, backup);
    await page.close();
    const first: number[] = [];
    const list: number[] = [];
    const open: number[] = [];
    for (let i = 0; i < ROUNDS; i += 1) {
      const fresh = await browser.newPage();
      await fresh.goto(url, { waitUntil: 'commit' });
      await fresh.getByRole('button', { name: 'Begin the walk' }).waitFor();
      first.push(await fresh.evaluate(() => performance.now()));
      list.push(await until(fresh, 'a[href="#/walks"]', '.walk-list li'));
      open.push(await until(fresh, '.walk-list li .walk-line', '.sheet-foot'));
      await fresh.close();
    }
    return {
      walks,
      events: made.events,
      ...restore,
      firstScreenSeconds: middle(first),
      walkListSeconds: middle(list),
      openWalkSeconds: middle(open),
    };
  } finally {
    await browser.close();
    await server.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

async function restored(page: Page, backup: string) {
  await page.getByRole('button', { name: 'Begin the walk' }).waitFor();
  await page.locator('a[href="#/walks"]').first().click();
  await page.locator('input[type=file]').waitFor({ state: 'attached' });
  await page.evaluate(() => {
    let last = performance.now();
    let stall = 0;
    const look = () => {
      const now = performance.now();
      stall = Math.max(stall, now - last);
      last = now;
      Reflect.set(globalThis, 'stall', stall);
      setTimeout(look, 0);
    };
    look();
  });
  const began = performance.now();
  await page.locator('input[type=file]').setInputFiles(backup);
  await page
    .getByText(/Events: \d+ restored/)
    .first()
    .waitFor({ timeout: 3_600_000 });
  const seconds = round((performance.now() - began) / 1000);
  const stall = Number(await page.evaluate(() => Reflect.get(globalThis, 'stall') as number));
  return { restoreSeconds: seconds, restoreStallSeconds: round(stall / 1000) };
}

/** Seconds from the press to the element, measured in the page, where nothing but the page is in them. */
async function until(page: Page, press: string, shown: string): Promise<number> {
  return page.evaluate(
    ([press, shown]) =>
      new Promise<number>((resolve, reject) => {
        const button = document.querySelector<HTMLElement>(press);
        if (button === null) return reject(new Error(`There is no ${press}.`));
        const began = performance.now();
        button.click();
        const look = () => {
          if (document.querySelector(shown) !== null)
            // Drawn, not only there.
            requestAnimationFrame(() => setTimeout(() => resolve(performance.now() - began)));
          else setTimeout(look, 1);
        };
        look();
      }),
    [press, shown] as const,
  );
}

function middle(milliseconds: readonly number[]): number {
  const sorted = [...milliseconds].sort((a, b) => a - b);
  return round((sorted[Math.floor(sorted.length / 2)] ?? NaN) / 1000);
}

function round(n: number): number {
  return Math.round(n * 1000) / 1000;
}
