import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';

/** Builds the ordeals' page into a folder of its own and gives the folder. */
export async function buildPage(): Promise<string> {
  const outDir = mkdtempSync(join(tmpdir(), 'talkround-ordeal-page-'));
  await build({
    configFile: false,
    logLevel: 'error',
    root: fileURLToPath(new URL('./page/', import.meta.url)),
    base: './',
    build: { outDir, target: 'es2022', emptyOutDir: true },
  });
  return outDir;
}
