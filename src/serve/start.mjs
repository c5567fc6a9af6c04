// npm start: installs what is missing, builds, serves and prints the address.
//   --lan             serve over HTTPS to the local network, with a QR code for a phone
//   --port N          instead of 4710 (or the next free one)
//   --new-authority   with --lan: another authority, which every phone installs again
//   --school FOLDER   keep a school in it; --school-name, --chief: names when it is founded
//   --host NAME       with --school: the name under which a proxy or a certificate has it
//   --everywhere      with --school: plain HTTP on every address, for a proxy in front that has the TLS
//   --cert, --key     with --school: PEM files, to serve HTTPS under that name on every address
//   --backup FILE     of the school in FOLDER, also while it runs; --restore FILE into an empty one
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { ensureBuilt, ensureInstalled, requireNode, root } from './ensure.mjs';

const FIRST_PORT = 4710;
/** Ports tried in turn when none was asked for. */
const PORTS_TRIED = 20;

requireNode();
const words = readWords();
await ensureInstalled();
if (words.school !== undefined) {
  await ensureBuilt('school');
  if (words.backup !== undefined || words.restore !== undefined) {
    const { schoolFile } = await import('./school.mjs');
    process.exit(await schoolFile(words));
  }
}
await ensureBuilt('app');

const { serve } = await import('./serve.mjs');
const folder = join(root, 'dist', 'app');
const kept = words.school === undefined ? null : await import('./school.mjs');
const opened = kept === null ? null : await kept.startSchool(words);
if (words.lan) await startLan();
else if (kept !== null && opened !== null) {
  const secure = kept.secureFrom(words);
  const away =
    secure !== undefined
      ? { secure, host: '0.0.0.0' }
      : words.everywhere
        ? { host: '0.0.0.0' }
        : {};
  const server = await onFreePort((port) => serve({ folder, port, ...away, ...opened.more }));
  const address =
    secure === undefined
      ? `http://localhost:${server.port}/`
      : `https://${words.host ?? 'localhost'}:${server.port}/`;
  console.log(`Talkround: ${address}`);
  console.log(await kept.chiefInWords(address, opened.school));
} else {
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
  const served = await serveLan({
    folder,
    open: onFreePort,
    addresses,
    anew: words.anew,
    more: opened?.more,
  });
  console.log(await inWords(served, addresses));
  if (kept !== null && opened !== null)
    console.log(
      await kept.chiefInWords(`https://${addresses[0]}:${served.app.port}/`, opened.school),
    );
}

function readWords() {
  try {
    const { values } = parseArgs({
      options: {
        lan: { type: 'boolean', default: false },
        port: { type: 'string' },
        'new-authority': { type: 'boolean', default: false },
        school: { type: 'string' },
        'school-name': { type: 'string' },
        chief: { type: 'string' },
        host: { type: 'string' },
        everywhere: { type: 'boolean' },
        cert: { type: 'string' },
        key: { type: 'string' },
        backup: { type: 'string' },
        restore: { type: 'string' },
      },
    });
    const port = values.port === undefined ? undefined : Number(values.port);
    if (port !== undefined && !(Number.isInteger(port) && port >= 0 && port <= 65535))
      throw new Error(`--port takes a number from 0 to 65535, not "${values.port}".`);
    const ofSchool = [
      'everywhere',
      'school-name',
      'chief',
      'host',
      'cert',
      'key',
      'backup',
      'restore',
    ];
    const alone = ofSchool.find((name) => values[name] !== undefined);
    if (values.school === undefined && alone !== undefined)
      throw new Error(`--${alone} goes with --school FOLDER.`);
    return { ...values, port, anew: values['new-authority'], name: values['school-name'] };
  } catch (error) {
    console.error(
      `${error.message} Usage: npm start -- [--lan [--new-authority]] [--port N] [--school FOLDER [--backup FILE | --restore FILE]]`,
    );
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
