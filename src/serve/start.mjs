// npm start: installs what is missing, builds, serves and prints the address.
//   --lan             serve over HTTPS to the local network, with a QR code for a phone
//   --port N          instead of 4710 (or the next free one)
//   --new-authority   with --lan: another authority, which every phone installs again
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { ensureBuilt, ensureInstalled, requireNode, root } from './ensure.mjs';

const FIRST_PORT = 4710;
/** Ports tried in turn when none was asked for. */
const PORTS_TRIED = 20;

requireNode();
const words = readWords();
await ensureInstalled();
await ensureBuilt('app');

const { serve } = await import('./serve.mjs');
const folder = join(root, 'dist', 'app');
if (words.lan) await startLan();
else {
  const server = await onFreePort((port) => serve({ folder, port }));
  console.log(`Talkround: http://localhost:${server.port}/`);
}
console.log('Stop it with Ctrl+C.');

async function startLan() {
  const { inWords, lanAddresses, serveLan } = await import('./lan.mjs');
  const addresses = lanAddresses();
  if (addresses.length === 0) {
    console.error(
      'This machine has no address in a local network. Join the network first, or start without --lan.',
    );
    process.exit(2);
  }
  const served = await serveLan({ folder, open: onFreePort, addresses, anew: words.anew });
  console.log(await inWords(served, addresses));
}

function readWords() {
  try {
    const { values } = parseArgs({
      options: {
        lan: { type: 'boolean', default: false },
        port: { type: 'string' },
        'new-authority': { type: 'boolean', default: false },
      },
    });
    const port = values.port === undefined ? undefined : Number(values.port);
    if (port !== undefined && !(Number.isInteger(port) && port >= 0 && port <= 65535))
      throw new Error(`--port takes a number from 0 to 65535, not "${values.port}".`);
    return { lan: values.lan, port, anew: values['new-authority'] };
  } catch (error) {
    console.error(`${error.message} Usage: npm start -- [--lan [--new-authority]] [--port N]`);
    return process.exit(2);
  }
}

/**
 * Listens on the port that was asked for, or on the first free one. A second
 * server, such as the phone's page, takes the next free one after the first.
 */
async function onFreePort(listen, after) {
  const asked = after === undefined ? words.port : words.port === 0 ? 0 : undefined;
  const first = asked ?? (after === undefined ? FIRST_PORT : after + 1);
  const last = asked === undefined ? Math.min(first + PORTS_TRIED - 1, 65535) : first;
  for (let port = first; ; port += 1) {
    try {
      return await listen(port);
    } catch (error) {
      if (error.code === 'EADDRINUSE' && port < last) continue;
      const why = error.code === 'EADDRINUSE' ? 'is in use' : `cannot be opened (${error.code})`;
      console.error(`Port ${port} ${why}. Choose another: npm start -- --port 8080`);
      return process.exit(2);
    }
  }
}
