// Runs a TypeScript file of this project in Node, the way Vite sees it:
//   node tests/load.mjs tests/bench/grammar.ts --json
import { createServer } from 'vite';

const [, , file, ...words] = process.argv;
if (file === undefined) {
  console.error('Which file? Usage: node tests/load.mjs FILE [words for it]');
  process.exit(2);
}
const server = await createServer({
  appType: 'custom',
  logLevel: 'error',
  server: { middlewareMode: true, hmr: false, ws: false, watch: null },
  optimizeDeps: { noDiscovery: true },
});
try {
  const module = await server.ssrLoadModule(file);
  process.exitCode = (await module.main(words)) ?? 0;
} finally {
  await server.close();
}
