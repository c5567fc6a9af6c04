// Builds the page on which the screens run over a double, and serves it with the
// headers of the real one: node tests/screens/page/serve.mjs prints its address.
import { fileURLToPath, pathToFileURL } from 'node:url';
import react from '@vitejs/plugin-react';
import { build } from 'vite';

const root = fileURLToPath(new URL('.', import.meta.url));
const outDir = fileURLToPath(new URL('../../../.cache/screens-page', import.meta.url));
const project = fileURLToPath(new URL('../../../', import.meta.url));

/** @returns {Promise<{ url: string, folder: string, close: () => Promise<void> }>} */
export async function servePage() {
  await build({
    configFile: false,
    root,
    base: './',
    logLevel: 'error',
    publicDir: fileURLToPath(new URL('public', pathToFileURL(project))),
    cacheDir: fileURLToPath(new URL('../../../.cache/screens-vite', import.meta.url)),
    plugins: [react()],
    build: { outDir, emptyOutDir: true, target: 'es2022', copyPublicDir: false },
  });
  // Not resolved by the test runner's own transform.
  const serving = '../../../src/serve/serve.mjs';
  const { serve } = await import(new URL(serving, import.meta.url).href);
  const server = await serve({ folder: outDir });
  return { url: `http://localhost:${server.port}/`, folder: outDir, close: () => server.close() };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const page = await servePage();
  console.log(page.url);
}
