import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';

const here = (name: string) => fileURLToPath(new URL(`./page/${name}`, import.meta.url));

/** Builds one page of the ordeals into a folder of its own and gives the folder. */
export async function buildPage(page = 'index.html'): Promise<string> {
  const outDir = mkdtempSync(join(tmpdir(), 'talkround-ordeal-page-'));
  await build({
    configFile: false,
    logLevel: 'error',
    root: here(''),
    base: './',
    build: {
      outDir,
      target: 'es2022',
      emptyOutDir: true,
      rolldownOptions: { input: here(page) },
    },
  });
  return outDir;
}
