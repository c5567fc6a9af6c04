import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import { defineConfig, type Plugin } from 'vite';
import { configDefaults } from 'vitest/config';

const modelFolder = fileURLToPath(
  new URL('./node_modules/soundswallower/model/en-us/', import.meta.url),
);

/**
 * Puts the recogniser's acoustic model and dictionary beside the app, so that it
 * is served from our own origin and can be kept for use without a network.
 */
function modelFiles(): Plugin {
  return {
    name: 'talkround-model-files',
    configureServer(server) {
      server.middlewares.use((request, response, next) => {
        const match = /\/model\/en-us\/([\w.-]+)(\?.*)?$/.exec(request.url ?? '');
        if (match === null) return next();
        const file = `${modelFolder}${match[1]}`;
        if (existsSync(file) && statSync(file).isFile()) return response.end(readFileSync(file));
        response.statusCode = 404;
        return response.end('Not found');
      });
    },
    generateBundle() {
      if (this.environment.name !== 'client') return;
      for (const name of readdirSync(modelFolder)) {
        if (name.startsWith('README')) continue;
        this.emitFile({
          type: 'asset',
          fileName: `model/en-us/${name}`,
          source: readFileSync(`${modelFolder}${name}`),
        });
      }
    },
  };
}

export default defineConfig(({ isSsrBuild }) => ({
  // Relative, so that the build can be hosted under any path.
  base: './',
  plugins: [react(), modelFiles()],
  worker: { format: 'es' },
  resolve: {
    alias: {
      // The recogniser asks for a polyfill that no supported platform needs.
      'blob-polyfill': fileURLToPath(
        new URL('./src/capture/embedded/blob-polyfill.ts', import.meta.url),
      ),
    },
  },
  build: isSsrBuild
    ? {
        ssr: 'src/cli/main.ts',
        outDir: 'dist/cli',
        target: 'node20',
        emptyOutDir: true,
        copyPublicDir: false,
      }
    : { outDir: 'dist/app', target: 'es2022', emptyOutDir: true },
  test: {
    projects: [
      {
        extends: true,
        test: {
          name: 'unit',
          include: ['tests/**/*.test.{ts,tsx}'],
          exclude: [...configDefaults.exclude, 'tests/browser/**'],
          setupFiles: ['tests/setup.ts'],
        },
      },
      {
        extends: true,
        test: {
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          globalSetup: ['tests/browser/setup.ts'],
          testTimeout: 120_000,
          hookTimeout: 120_000,
          fileParallelism: false,
        },
      },
    ],
  },
}));
