// What has to be there before anything else runs: a recent Node, the packages
// and the build. Plain JavaScript without packages, since it runs before they
// are installed.
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, readdirSync, statSync, writeFileSync } from 'node:fs';
import { setPriority } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = fileURLToPath(new URL('../../', import.meta.url));
const stampFolder = join(root, 'node_modules', '.talkround');

/** What the two builds are made of: anything newer than a build makes it stale. */
const sources = ['src', 'shared', 'grammar', 'seeds', 'public', 'index.html', 'vite.config.ts'];

/** Lowest Node that Vite and the packages run on. */
const LOWEST_NODE = [20, 19];

/** Ends the program with one sentence when Node is too old. */
export function requireNode() {
  const [major = 0, minor = 0] = process.versions.node.split('.').map(Number);
  if (major > LOWEST_NODE[0] || (major === LOWEST_NODE[0] && minor >= LOWEST_NODE[1])) return;
  console.error(
    `Talkround needs Node ${LOWEST_NODE.join('.')} or later; this is ${process.versions.node}. Install a newer Node and run the same command again.`,
  );
  process.exit(2);
}

/**
 * Runs a command; its output goes to standard error, so that ours stays clean.
 *
 * @param nice how readily it gives way to others (os.setPriority); 0 as everybody
 */
export function run(command, words, env = {}, nice = 0) {
  return new Promise((resolve) => {
    const child = spawn(command, words, {
      cwd: root,
      stdio: ['ignore', 2, 2],
      env: { ...process.env, ...env },
    });
    if (nice > 0 && child.pid !== undefined) setPriority(child.pid, nice);
    child.on('error', () => resolve(127));
    child.on('close', (code) => resolve(code ?? 1));
  });
}

function stampOf(name) {
  const file = join(stampFolder, name);
  return existsSync(file) ? readFileSync(file, 'utf8') : '';
}

function stamp(name, value) {
  mkdirSync(stampFolder, { recursive: true });
  writeFileSync(join(stampFolder, name), value);
}

/** Installs the packages of the lock file when they are missing or others. */
export async function ensureInstalled() {
  const lock = createHash('sha256')
    .update(readFileSync(join(root, 'package-lock.json')))
    .digest('hex');
  if (stampOf('lock') === lock && existsSync(join(root, 'node_modules', 'vite'))) return;
  console.error('Installing the packages …');
  const code = await run('npm', ['ci', '--no-audit', '--no-fund', '--loglevel', 'error'], {
    NODE_ENV: 'development',
  });
  if (code !== 0) {
    console.error(
      'The packages could not be installed. Check that this machine reaches the npm registry, then run the same command again.',
    );
    process.exit(2);
  }
  stamp('lock', lock);
}

/** Newest change below a file or folder, milliseconds. */
function newest(path) {
  if (!existsSync(path)) return 0;
  const { mtimeMs } = statSync(path);
  if (!statSync(path).isDirectory()) return mtimeMs;
  return readdirSync(path).reduce(
    (time, name) => Math.max(time, newest(join(path, name))),
    mtimeMs,
  );
}

function isFresh(target) {
  const built = Number(stampOf(`built-${target}`));
  if (!built || !existsSync(join(root, 'dist', target))) return false;
  return sources.every((name) => newest(join(root, name)) < built);
}

/** Entry of each build for Node. */
const ENTRIES = { cli: 'src/cli/main.ts', school: 'src/school/main.ts' };
const WORDS = { app: 'the app', cli: 'the command line', school: 'the school' };

/** Builds `app` (the page), `cli` (the command line) or `school` (its server) unless the build is newer than its sources. */
export async function ensureBuilt(target) {
  if (isFresh(target)) return;
  console.error(`Building ${WORDS[target]} …`);
  const began = Date.now();
  const before = process.env.NODE_ENV;
  // A test runner asks for its own kind; what is built here is always the real thing.
  process.env.NODE_ENV = 'production';
  try {
    const { build } = await import('vite');
    const node = { build: { ssr: ENTRIES[target], outDir: `dist/${target}` } };
    await build({ root, logLevel: 'error', ...(target === 'app' ? {} : node) });
  } finally {
    if (before === undefined) delete process.env.NODE_ENV;
    else process.env.NODE_ENV = before;
  }
  stamp(`built-${target}`, String(began));
}
