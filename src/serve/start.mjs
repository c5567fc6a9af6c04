// npm start: installs what is missing, builds, serves and prints the address.
//   --lan        serve over HTTPS to the local network, with a QR code for a phone
//   --port N     instead of 4710 (or the next free one)
import { networkInterfaces } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { ensureBuilt, ensureInstalled, requireNode, root } from './ensure.mjs';

const FIRST_PORT = 4710;
/** Ports tried in turn when none was asked for. */
const PORTS_TRIED = 20;
/** A certificate made on the spot is for this visit to the hangar, not for a year. */
const CERTIFICATE_DAYS = 30;

requireNode();
const words = readWords();
await ensureInstalled();
await ensureBuilt('app');

const { serve } = await import('./serve.mjs');
const addresses = words.lan ? lanAddresses() : [];
if (words.lan && addresses.length === 0) {
  console.error(
    'This machine has no address in a local network. Join the network first, or start without --lan.',
  );
  process.exit(2);
}
const secure = words.lan ? await certificate(addresses) : undefined;
const server = await firstFreePort();
if (words.lan) await tellPhone(server.port);
else console.log(`Talkround: http://localhost:${server.port}/`);
console.log('Stop it with Ctrl+C.');

function readWords() {
  try {
    const { values } = parseArgs({
      options: { lan: { type: 'boolean', default: false }, port: { type: 'string' } },
    });
    const port = values.port === undefined ? undefined : Number(values.port);
    if (port !== undefined && !(Number.isInteger(port) && port >= 0 && port <= 65535))
      throw new Error(`--port takes a number from 0 to 65535, not "${values.port}".`);
    return { lan: values.lan, port };
  } catch (error) {
    console.error(`${error.message} Usage: npm start -- [--lan] [--port N]`);
    return process.exit(2);
  }
}

function lanAddresses() {
  return Object.values(networkInterfaces())
    .flatMap((list) => list ?? [])
    .filter((a) => a.family === 'IPv4' && !a.internal)
    .map((a) => a.address);
}

async function certificate(ips) {
  const { generate } = await import('selfsigned');
  const made = await generate([{ name: 'commonName', value: 'Talkround on this network' }], {
    keySize: 2048,
    algorithm: 'sha256',
    notAfterDate: new Date(Date.now() + CERTIFICATE_DAYS * 24 * 3600 * 1000),
    extensions: [
      {
        name: 'subjectAltName',
        altNames: [{ type: 2, value: 'localhost' }, ...ips.map((ip) => ({ type: 7, ip }))],
      },
    ],
  });
  return { key: made.private, cert: made.cert };
}

async function firstFreePort() {
  const folder = join(root, 'dist', 'app');
  const host = words.lan ? '0.0.0.0' : '127.0.0.1';
  const first = words.port ?? FIRST_PORT;
  const last = words.port === undefined ? first + PORTS_TRIED - 1 : first;
  for (let port = first; ; port += 1) {
    try {
      return await serve({ folder, port, host, secure });
    } catch (error) {
      if (error.code === 'EADDRINUSE' && port < last) continue;
      const why = error.code === 'EADDRINUSE' ? 'is in use' : `cannot be opened (${error.code})`;
      console.error(`Port ${port} ${why}. Choose another: npm start -- --port 8080`);
      return process.exit(2);
    }
  }
}

async function tellPhone(port) {
  const { default: qrcode } = await import('qrcode');
  for (const address of addresses) {
    const url = `https://${address}:${port}/`;
    console.log(`Talkround: ${url}`);
    console.log(await qrcode.toString(url, { type: 'utf8' }));
  }
  console.log(
    'The certificate was made just now, so the phone will warn once; accept it for this address to let the page use the microphone.',
  );
}
