import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import { defineConfig, type Plugin } from 'vite';
import { VitePWA } from 'vite-plugin-pwa';
import { configDefaults } from 'vitest/config';
import { metaPolicy } from './src/serve/headers.mjs';

/** The letters of printed papers, with the licence that goes with every copy of them. */
const LETTERS: Readonly<Record<string, string>> = Object.fromEntries(
  ['ttf/DejaVuSansCondensed.ttf', 'ttf/DejaVuSansCondensed-Bold.ttf', 'LICENSE'].map((path) => [
    path.replace(/^.*\//, ''),
    fileURLToPath(new URL(`./node_modules/dejavu-fonts-ttf/${path}`, import.meta.url)),
  ]),
);

/** Puts the letters of printed papers beside the app: fetched when a PDF is made, kept with the offline copy. */
function letterFiles(): Plugin {
  return {
    name: 'talkround-letter-files',
    configureServer(server) {
      server.middlewares.use((request, response, next) => {
        const name = /\/letters\/([\w.-]+)(\?.*)?$/.exec(request.url ?? '')?.[1];
        const file = name === undefined ? undefined : LETTERS[name];
        if (file === undefined) return next();
        return response.end(readFileSync(file));
      });
    },
    generateBundle() {
      if (this.environment.name !== 'client') return;
      for (const [name, file] of Object.entries(LETTERS))
        this.emitFile({
          type: 'asset',
          fileName: `letters/${name}`,
          source: readFileSync(file),
        });
    },
  };
}

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

/**
 * A hash of the sources of reconciler and contracts. Folds are kept under it, so
 * that a change to either is a change of every kept fold, and nobody has to think of it.
 */
function foldedBy(): string {
  const hash = createHash('sha256');
  for (const folder of ['src/reconcile', 'shared']) {
    const at = fileURLToPath(new URL(`./${folder}/`, import.meta.url));
    for (const name of readdirSync(at).sort())
      if (name.endsWith('.ts')) hash.update(name).update(readFileSync(`${at}${name}`));
  }
  return hash.digest('hex').slice(0, 16);
}

/** What changed from version to version: asked for over the network only, to say it before an update. */
function changesFile(): Plugin {
  return {
    name: 'talkround-changes',
    generateBundle() {
      if (this.environment.name !== 'client') return;
      const source = readFileSync(new URL('./src/store/changes.json', import.meta.url));
      this.emitFile({ type: 'asset', fileName: 'changes.json', source });
    },
  };
}

/** The policy of our own server as a <meta>, for hosts that set no headers. Not while developing: Vite needs inline script there. */
function policyInPage(): Plugin {
  return {
    name: 'talkround-policy',
    apply: 'build',
    transformIndexHtml: () => [
      {
        tag: 'meta',
        attrs: { 'http-equiv': 'Content-Security-Policy', content: metaPolicy() },
        // Before anything that loads: a policy holds for what comes after it.
        injectTo: 'head-prepend',
      },
    ],
  };
}

/**
 * Everything that the first screen needs is asked for at once. Without this the
 * browser learns of the stages only when the frame round them has been run: half
 * a second on a slow device.
 */
function stagesAtOnce(): Plugin {
  return {
    name: 'talkround-stages-at-once',
    apply: 'build',
    transformIndexHtml: {
      order: 'post',
      handler(html, { bundle = {} }) {
        const chunks = Object.values(bundle).filter((c) => c.type === 'chunk');
        const stages = chunks.find((c) => c.facadeModuleId?.endsWith('/src/wire/browser.ts'));
        if (stages === undefined) return [];
        const files = new Set<string>();
        const add = (file: string) => {
          if (files.has(file)) return;
          files.add(file);
          chunks.find((c) => c.fileName === file)?.imports.forEach(add);
        };
        add(stages.fileName);
        return [...files]
          .filter((file) => !html.includes(file))
          .map((file) => ({
            tag: 'link',
            // Behind what paints the frame, on a slow network.
            attrs: {
              rel: 'modulepreload',
              fetchpriority: 'low',
              crossorigin: true,
              href: `./${file}`,
            },
            injectTo: 'head' as const,
          }));
      },
    },
  };
}

/**
 * The app without a network: everything that was built is kept at the first
 * visit, the recogniser's model included. A new version waits until it is
 * asked in (`watchForUpdate` in #store), so that it never interrupts a walk.
 */
const offline = VitePWA({
  registerType: 'prompt',
  // A script file of its own: the policy forbids inline script.
  injectRegister: 'script-defer',
  manifest: {
    name: 'Talkround',
    short_name: 'Talkround',
    description:
      'Talk through the pre-flight walk; see what was spoken for, half said and skipped.',
    lang: 'en',
    start_url: './',
    scope: './',
    id: './',
    display: 'standalone',
    background_color: '#ffffff',
    theme_color: '#ffffff',
    categories: ['utilities'],
    icons: [
      { src: 'icon.svg', sizes: 'any', type: 'image/svg+xml', purpose: 'any' },
      { src: 'icon-192.png', sizes: '192x192', type: 'image/png', purpose: 'any' },
      { src: 'icon-512.png', sizes: '512x512', type: 'image/png', purpose: 'any' },
      { src: 'icon-maskable-512.png', sizes: '512x512', type: 'image/png', purpose: 'maskable' },
    ],
  },
  workbox: {
    globPatterns: ['**/*'],
    globIgnores: ['sw.js', 'workbox-*.js', '**/*.map', 'changes.json'],
    // The largest file is the recogniser's dictionary (3.3 MB); its parts come to 10 MB.
    maximumFileSizeToCacheInBytes: 8 * 1024 * 1024,
    navigateFallback: 'index.html',
    // The page for phones is the server's, not the app's.
    navigateFallbackDenylist: [/\/phone\//],
    cleanupOutdatedCaches: true,
    // The first visit is offline-ready without being loaded again.
    clientsClaim: true,
    inlineWorkboxRuntime: true,
    sourcemap: false,
  },
});

/** Tests that speak into a microphone and wait as long as the words take: they leave the machine idle. */
const SPOKEN = ['listening-walk', 'listening-own', 'squawks', 'workshop'].map(
  (name) => `tests/browser/${name}.test.ts`,
);

/** Folders whose tests leave nothing behind that another would see. */
const PURE = [
  ...['bench', 'catalogue', 'conversation', 'corpus', 'grammar', 'learn', 'reconcile'],
  ...['record', 'report', 'seeds', 'shared', 'speak', 'standards'],
].map((folder) => `tests/${folder}/**/*.test.{ts,tsx}`);

/** Tests in Node; `isolate`: each file in a process of its own. */
const inNode = (name: string, include: string[], exclude: string[], isolate: boolean) => ({
  extends: true as const,
  test: {
    name,
    include,
    isolate,
    exclude: [...configDefaults.exclude, ...exclude],
    setupFiles: ['tests/setup.ts'],
    // Laws over hundreds of walks take half a minute beside spoken tests; speed is measured in benches, not here.
    testTimeout: 90_000,
  },
});

/** Tests in Chromium, one file at a time. */
const inChromium = (name: string, include: string[], exclude: string[]) => ({
  extends: true as const,
  test: {
    name,
    include,
    exclude: [...configDefaults.exclude, ...exclude],
    globalSetup: ['tests/browser/setup.ts'],
    testTimeout: 120_000,
    hookTimeout: 120_000,
    fileParallelism: false,
  },
});

export default defineConfig(({ command, isSsrBuild }) => ({
  // Relative, so that the build can be hosted under any path.
  base: './',
  define: { __FOLDED_BY__: JSON.stringify(foldedBy()) },
  plugins: [
    react(),
    modelFiles(),
    letterFiles(),
    changesFile(),
    policyInPage(),
    stagesAtOnce(),
    ...(isSsrBuild ? [] : [offline]),
  ],
  worker: { format: 'es' },
  resolve: {
    alias: [
      {
        // The recogniser asks for a polyfill that no supported platform needs.
        find: 'blob-polyfill',
        replacement: fileURLToPath(
          new URL('./src/capture/embedded/blob-polyfill.ts', import.meta.url),
        ),
      },
      // In the page, the library of the contracts may make no function out of text.
      ...(command === 'build' && !isSsrBuild
        ? [
            {
              find: /^zod$/,
              replacement: fileURLToPath(new URL('./src/store/plain-zod.ts', import.meta.url)),
            },
          ]
        : []),
    ],
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
    // Pages that wait for nothing but themselves are looked at two at a time, one a core.
    maxConcurrency: 2,
    projects: [
      inNode('unit', ['tests/**/*.test.{ts,tsx}'], [...PURE, 'tests/browser/**'], true),
      // What these test changes nothing outside itself: the lexicon and the weights are read once, not in each file.
      inNode('pure', PURE, [], false),
      inChromium(
        'browser',
        ['tests/browser/**/*.test.ts'],
        [
          ...SPOKEN,
          // A school's day takes three minutes or more: a command of its own, `npm run day`.
          ...(process.env['SCHOOL_DAY'] === undefined ? ['tests/browser/school.test.ts'] : []),
        ],
      ),
      inChromium('spoken', SPOKEN, []),
    ],
  },
}));
