// npm start -- --lan: over HTTPS to the local network, with an authority that a
// phone can be made to know, and a page that says how.
import { networkInterfaces } from 'node:os';
import { certificateFor, ownAuthority, ownFolder, speaksFor } from './authority.mjs';
import { ownNames } from './guard.mjs';
import { PHONE, phonePages } from './phone.mjs';
import { serve } from './serve.mjs';

/** IPv4 addresses of this machine on its networks. */
export function lanAddresses() {
  return Object.values(networkInterfaces())
    .flatMap((list) => list ?? [])
    .filter((a) => a.family === 'IPv4' && !a.internal)
    .map((a) => a.address);
}

/**
 * Serves the app over HTTPS and the phone's page over http, on every address.
 *
 * @param {object} options
 * @param {string} options.folder the built app
 * @param {<T>(listen: (port: number) => Promise<T>, after?: number) => Promise<T>} options.open finds a free port
 * @param {readonly string[]} options.addresses of this machine
 * @param {boolean} options.anew another authority, whatever there is
 * @param {object} [options.more] what else the server of the app is told
 */
export async function serveLan({ folder, open, addresses, anew, more = {} }) {
  const now = Date.now();
  const names = ownNames();
  const host = '0.0.0.0';
  const authority = await authorityHere(now, addresses, anew);
  const known = addresses.filter((ip) => speaksFor(authority, ip));
  const local = names.filter((name) => name === 'localhost' || name.endsWith('.local'));
  const secure = await certificateFor(authority, known, local, now);
  const pages = phonePages({ app: () => '/', authority, base: PHONE });
  const app = await open((port) => serve({ folder, port, host, secure, pages, names, ...more }));
  const away = (name) => `https://${name}:${app.port}/`;
  const help = phonePages({ app: away, authority, base: '/' });
  const phone = await open((port) => serve({ port, host, names, pages: help }), app.port);
  return { app, phone, authority, unknown: addresses.filter((ip) => !known.includes(ip)) };
}

/** Without a folder to keep it in, a phone would have to install another one at each start. */
async function authorityHere(now, addresses, anew) {
  const folder = ownFolder();
  try {
    return await ownAuthority(folder, now, addresses, anew);
  } catch (error) {
    console.error(
      `The authority for phones cannot be kept in ${folder} (${error.code ?? error.message}). Make that folder writable, or name another in the environment as TALKROUND_HOME.`,
    );
    return process.exit(2);
  }
}

/** Pairs of hex digits in a line: a fingerprint is compared row by row. */
const PAIRS_IN_A_ROW = 8;

/**
 * What stands on the screen: the codes, and beside each what the phone must show.
 *
 * @returns {Promise<string>}
 */
export async function inWords({ app, phone, authority, unknown }, addresses) {
  const { default: qrcode } = await import('qrcode');
  const pairs = authority.fingerprint.split(' ');
  const rows = Array.from(
    { length: Math.ceil(pairs.length / PAIRS_IN_A_ROW) },
    (_, i) => `  ${pairs.slice(i * PAIRS_IN_A_ROW, (i + 1) * PAIRS_IN_A_ROW).join(' ')}`,
  );
  const beside = [
    '',
    'Scan this with the phone: the page says',
    'how the phone learns to trust this',
    'computer, which it needs to keep',
    'Talkround for use without a network.',
    '',
    'What the phone installs has the SHA-256',
    ...rows,
    'Compare it before you trust it.',
    ...(authority.made ? ['It was made just now.'] : ['It is the one of last time.']),
  ];
  const lines = [];
  for (const address of addresses) {
    lines.push(`Talkround: https://${address}:${app.port}/`);
    lines.push(`Phone:     http://${address}:${phone.port}/`);
    const code = await qrcode.toString(`http://${address}:${phone.port}/`, { type: 'utf8' });
    const drawn = code.trimEnd().split('\n');
    for (let i = 0; i < Math.max(drawn.length, beside.length); i += 1)
      lines.push(`${drawn[i] ?? ' '.repeat(drawn[0]?.length ?? 0)}  ${beside[i] ?? ''}`.trimEnd());
    if (unknown.includes(address))
      lines.push(
        `The authority of this computer cannot speak for ${address}, so a phone will warn there. To make another one, which every phone has to install again: npm start -- --lan --new-authority`,
      );
  }
  return lines.join('\n');
}
