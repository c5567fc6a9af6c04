import { createReadStream, existsSync, mkdtempSync, rmSync, statSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { extname, join, resolve } from 'node:path';
import { chromium } from 'playwright-core';
import { build } from 'vite';

export interface Opened {
  /** Median of several openings, each in a page loaded anew; null when it could not be measured. */
  readonly seconds: number | null;
  readonly events: number;
  readonly how: string;
}

const ROUNDS = 5;
const TYPES: Readonly<Record<string, string>> = { '.html': 'text/html', '.js': 'text/javascript' };

/**
 * Opens an hour-long walk in Chromium: from the closed database to the sheet.
 * A page of its own is built from the store and the reconciler, so that nothing
 * of the screens is in the figure.
 */
export async function openWalk(): Promise<Opened> {
  const executablePath = process.env['CHROMIUM'] ?? '/usr/bin/chromium';
  if (!existsSync(executablePath)) {
    return { seconds: null, events: 0, how: `there is no Chromium at ${executablePath}.` };
  }
  const folder = mkdtempSync(join(tmpdir(), 'talkround-open-'));
  const page = resolve('tests/bench/reconcile/page');
  await build({
    root: page,
    base: './',
    logLevel: 'error',
    configFile: false,
    build: { outDir: folder, emptyOutDir: true, target: 'es2022' },
  });
  const server = createServer((request, response) => {
    const path = new URL(request.url ?? '/', 'http://localhost').pathname;
    const file = join(folder, path === '/' ? 'index.html' : path);
    if (!file.startsWith(folder) || !existsSync(file) || !statSync(file).isFile()) {
      response.writeHead(404).end();
      return;
    }
    response.setHeader('content-type', TYPES[extname(file)] ?? 'application/octet-stream');
    createReadStream(file).pipe(response);
  });
  await new Promise<void>((done) => server.listen(0, 'localhost', done));
  const { port } = server.address() as AddressInfo;
  const browser = await chromium.launch({ executablePath, args: ['--no-sandbox'] });
  try {
    const tab = await browser.newPage();
    await tab.goto(`http://localhost:${port}/`);
    const events = Number(await tab.evaluate('window.plant()'));
    const taken: number[] = [];
    for (let i = 0; i < ROUNDS; i += 1) {
      await tab.reload();
      taken.push(Number(await tab.evaluate('window.open_()')));
    }
    taken.sort((a, b) => a - b);
    const seconds = (taken[Math.floor(ROUNDS / 2)] ?? 0) / 1000;
    return { seconds, events, how: `Chromium, IndexedDB, median of ${ROUNDS} fresh pages` };
  } finally {
    await browser.close();
    server.close();
    rmSync(folder, { recursive: true, force: true });
  }
}
