import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium, type Browser } from 'playwright-core';
import type { Attack } from './attacks.ts';
import type { Outcome } from './routes.ts';
import type { Specimen } from './specimen.ts';

/** What somebody reads in the app: what was told of bringing in, and the sheet. */
export interface Read {
  readonly told: string;
  readonly sheet: string;
}

/** Bringing in and opening take about a second; a machine with a load of 40 took half a minute. */
export const STEP_MS = 180_000;

/** A module of the project that is plain JavaScript, run as it is. */
async function plain<T>(path: string): Promise<T> {
  const url = pathToFileURL(join(process.cwd(), path)).href;
  return (await import(/* @vite-ignore */ url)) as T;
}

/** Pages at once: each waits for its disk half of the time. */
export const PAGES = 3;

/** The built app in a browser. */
export interface AppOpened {
  readonly browser: Browser;
  readonly at: string;
  close(): Promise<void>;
}

export async function openApp(): Promise<AppOpened> {
  const { ensureBuilt } = await plain<{ ensureBuilt(of: 'app'): Promise<void> }>(
    'src/serve/ensure.mjs',
  );
  const { serve } = await plain<{
    serve(o: { folder: string }): Promise<{ port: number; close(): Promise<void> }>;
  }>('src/serve/serve.mjs');
  const { findChromium } = await plain<{ findChromium(): string | undefined }>(
    'tests/chromium.mjs',
  );
  const executablePath = process.env['CHROMIUM'] ?? findChromium();
  if (executablePath === undefined)
    throw new Error(
      'The app needs Chromium. Install it, set CHROMIUM to its path, or use --app 0.',
    );
  await ensureBuilt('app');
  const server = await serve({ folder: join(process.cwd(), 'dist', 'app') });
  const browser = await chromium.launch({ executablePath });
  return {
    browser,
    at: `http://localhost:${server.port}/`,
    async close() {
      await browser.close();
      await server.close();
    },
  };
}

/** The honest file, brought in this many times. */
export async function honestRead(
  { browser, at }: AppOpened,
  specimen: Specimen,
  times: number,
): Promise<Read> {
  const files = Array.from({ length: times }, () => specimen.file);
  const known = await read(browser, at, specimen.walk, files);
  if (!known.sheet.includes('sealed and whole'))
    throw new Error(`The honest sheet of "${specimen.name}" does not call itself whole.`);
  return known;
}

/** Brings files into the app in Chromium, as somebody would who was handed them, and reads the sheet. */
export async function appRoute(
  app: AppOpened,
  sample: readonly { readonly specimen: Specimen; readonly attack: Attack }[],
  note: (name: string, outcome: Outcome) => void,
): Promise<void> {
  const honest = new Map<string, Promise<Read>>();
  const waiting = [...sample];
  const hand = async () => {
    for (let one = waiting.shift(); one !== undefined; one = waiting.shift()) {
      const { specimen, attack } = one;
      const files = await attack.files();
      const key = `${specimen.name} ${files.length}`;
      const known = honest.get(key) ?? honestRead(app, specimen, files.length);
      honest.set(key, known);
      const got = await read(app.browser, app.at, specimen.walk, files);
      note(`${specimen.name}: ${attack.name}, app`, judgeRead(await known, got));
    }
  };
  await Promise.all(Array.from({ length: PAGES }, hand));
}

export async function read(
  browser: Browser,
  at: string,
  walk: string,
  files: readonly Uint8Array[],
): Promise<Read> {
  const context = await browser.newContext();
  context.setDefaultTimeout(STEP_MS);
  try {
    const page = await context.newPage();
    await page.goto(`${at}#/walks`);
    const told: string[] = [];
    for (const [n, file] of files.entries()) {
      await page.locator('.drop input[type=file]').setInputFiles({
        name: `${n}.zip`,
        mimeType: 'application/zip',
        buffer: Buffer.from(file),
      });
      told.push((await page.locator('.told .notice p').first().textContent()) ?? '');
      await page.locator('.told .press').click();
    }
    await page.goto(`${at}#/sheet/${walk}`);
    const shown = page.locator('.sheet, [role=alert]').first();
    await shown.waitFor();
    return { told: told.join('\n'), sheet: await shown.innerText() };
  } finally {
    await context.close();
  }
}

const SPOKEN = /(\d+) of \d+ spoken for/;
const WHOLE = /sealed and whole: (\d+) events.*?“((?:\w+ ){7}\w+)”/;

/** The same measure as for the command line: whole, by the honest key, and something else counts. */
export function judgeRead(honest: Read, got: Read): Outcome {
  const [mine, theirs] = [WHOLE.exec(honest.sheet), WHOLE.exec(got.sheet)];
  const counts =
    theirs?.[1] === mine?.[1] && SPOKEN.exec(got.sheet)?.[1] === SPOKEN.exec(honest.sheet)?.[1];
  if (theirs !== null && theirs[2] === mine?.[2] && !counts) return 'silent';
  if (/Not restored|Kept aside/.test(got.told)) return 'refused';
  return got.told === honest.told && got.sheet === honest.sheet ? 'silent' : 'shown';
}
