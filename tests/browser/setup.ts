import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { TestProject } from 'vitest/node';

/** Builds the app once, serves it, and tells the tests where. */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const root = process.cwd();
  const from = (path: string) => import(pathToFileURL(join(root, path)).href);
  const { ensureBuilt } = await from('src/serve/ensure.mjs');
  const { serve } = await from('src/serve/serve.mjs');
  const { findChromium } = await from('tests/chromium.mjs');
  await ensureBuilt('app');
  const server = await serve({ folder: join(root, 'dist', 'app') });
  project.provide('url', `http://localhost:${server.port}/`);
  project.provide('chromium', findChromium() ?? '/usr/bin/chromium');
  process.env['TALKROUND_URL'] = `http://localhost:${server.port}/`;
  process.env['CHROMIUM'] ??= findChromium() ?? '/usr/bin/chromium';
  return () => server.close();
}

declare module 'vitest' {
  export interface ProvidedContext {
    url: string;
    chromium: string;
  }
}
