// Finds the Chromium for the browser tests, or installs Debian's when it may.
import { existsSync, readFileSync } from 'node:fs';
import { run } from '../src/serve/ensure.mjs';

const PLACES = [
  process.env.CHROMIUM,
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome-stable',
  '/usr/bin/google-chrome',
  '/snap/bin/chromium',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
];

/** Path of a browser, or undefined. */
export function findChromium() {
  return PLACES.find((place) => place !== undefined && existsSync(place));
}

function isDebian() {
  const file = '/etc/os-release';
  return existsSync(file) && /^ID(_LIKE)?=.*debian/m.test(readFileSync(file, 'utf8'));
}

/**
 * The tool that puts an authority among those that Chromium on Linux trusts: the
 * test of `npm start -- --lan` plays a phone with it. Ends the program without one.
 */
export async function ensureCertutil() {
  if (process.platform !== 'linux' || hasCertutil()) return;
  if (isDebian() && process.getuid?.() === 0) {
    console.error('Installing certutil …');
    const quiet = { DEBIAN_FRONTEND: 'noninteractive' };
    await run('apt-get', ['update', '-qq'], quiet);
    const words = ['install', '-y', '-qq', '--no-install-recommends', 'libnss3-tools'];
    await run('apt-get', words, quiet);
    if (hasCertutil()) return;
  }
  console.error(
    'The test of --lan needs certutil. Install it (on Debian: sudo apt-get install libnss3-tools), then run npm test again.',
  );
  process.exit(2);
}

function hasCertutil() {
  const path = process.env.PATH ?? '';
  return path.split(':').some((folder) => folder !== '' && existsSync(`${folder}/certutil`));
}

/** Path of a browser; installs one by apt when this is Debian and we are root. Ends the program otherwise. */
export async function ensureChromium() {
  const found = findChromium();
  if (found !== undefined) return found;
  if (isDebian() && process.getuid?.() === 0) {
    console.error('Installing Chromium …');
    const quiet = { DEBIAN_FRONTEND: 'noninteractive' };
    await run('apt-get', ['update', '-qq'], quiet);
    await run('apt-get', ['install', '-y', '-qq', '--no-install-recommends', 'chromium'], quiet);
    const installed = findChromium();
    if (installed !== undefined) return installed;
  }
  console.error(
    'The browser tests need Chromium. Install it (on Debian: sudo apt-get install chromium), or set CHROMIUM to the path of the one you have, then run npm test again.',
  );
  return process.exit(2);
}
