import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { buildPage } from './build-page.ts';

/** Where an ordeal takes place: its page served, a browser found, a profile of its own. */
export interface Stage {
  readonly executable: string;
  readonly profile: string;
  readonly url: string;
  close(): Promise<void>;
}

/** A module of the project that is plain JavaScript, run as it is. */
async function plain<T>(path: string): Promise<T> {
  const url = pathToFileURL(join(process.cwd(), path)).href;
  return (await import(/* @vite-ignore */ url)) as T;
}

export async function setStage(name: string, page = 'index.html'): Promise<Stage> {
  const { serve } = await plain<{
    serve(o: { folder: string }): Promise<{ port: number; close(): Promise<void> }>;
  }>('src/serve/serve.mjs');
  const { findChromium } = await plain<{ findChromium(): string | undefined }>(
    'tests/chromium.mjs',
  );
  const executable = process.env['CHROMIUM'] ?? findChromium();
  if (executable === undefined)
    throw new Error(`The ${name} needs Chromium. Install it, or set CHROMIUM to its path.`);
  const folder = await buildPage(page);
  const server = await serve({ folder });
  const profile = mkdtempSync(join(tmpdir(), `talkround-${name}-`));
  return {
    executable,
    profile,
    url: `http://127.0.0.1:${server.port}/`,
    async close() {
      await server.close();
      for (const path of [profile, folder]) rmSync(path, { recursive: true, force: true });
    },
  };
}
