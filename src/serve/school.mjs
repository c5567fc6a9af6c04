// npm start -- --school FOLDER: what of the school the server is told, and what
// stands on the screen.
import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { LIMITS, ownNames } from './guard.mjs';

/** A phone on a poor network needs longer for a piece of sound than a browser for a page. */
const SCHOOL_LIMITS = { ...LIMITS, request: 120_000, stalled: 60_000 };

/** Opens the school; ends the program with one sentence when that cannot be. */
export async function startSchool(words) {
  const folder = resolve(words.school);
  const { openSchool, startControl } = await import('../../dist/school/main.js');
  try {
    mkdirSync(folder, { recursive: true, mode: 0o700 });
    const school = await openSchool({
      folder,
      name: words.name,
      chief: words.chief,
      surroundings: process.env,
    });
    const control = await startControl(folder, school);
    for (const signal of ['SIGINT', 'SIGTERM'])
      process.once(
        signal,
        () =>
          void control
            .close()
            .then(() => school.close())
            .finally(() => process.exit(0)),
      );
    return {
      school,
      more: {
        answer: school.answer,
        limits: SCHOOL_LIMITS,
        names: [...ownNames(), ...(words.host === undefined ? [] : [words.host.toLowerCase()])],
      },
    };
  } catch (error) {
    console.error(`The school in ${folder} cannot be opened: ${error.message}`);
    return process.exit(2);
  }
}

/** A certificate of somebody else's making, for an address with a name. */
export function secureFrom(words) {
  if (words.cert === undefined && words.key === undefined) return undefined;
  if (
    words.cert === undefined ||
    words.key === undefined ||
    !existsSync(words.cert) ||
    !existsSync(words.key)
  ) {
    console.error(
      '--cert and --key name two files: the certificate with its chain, and its key, both PEM.',
    );
    return process.exit(2);
  }
  return { cert: readFileSync(words.cert, 'utf8'), key: readFileSync(words.key, 'utf8') };
}

/** The link with which the chief's own phone or desk joins, with a code that a camera reads. */
export async function chiefInWords(address, { code }) {
  if (code === null) return '';
  const { default: qrcode } = await import('qrcode');
  const link = `${address}#/join/${code}`;
  const drawn = await qrcode.toString(link, { type: 'utf8' });
  return [
    'No device of a chief is in this school yet. Join the first one within ten minutes:',
    link,
    drawn.trimEnd(),
  ].join('\n');
}

/** --backup FILE and --restore FILE. Resolves to the exit code. */
export async function schoolFile(words) {
  const folder = resolve(words.school);
  const { backUpSchool, restoreSchool } = await import('../../dist/school/main.js');
  try {
    const lines =
      words.backup !== undefined
        ? await backUpSchool(folder, resolve(words.backup), process.env)
        : await restoreSchool(folder, resolve(words.restore), process.env);
    console.log(lines.join('\n'));
    return 0;
  } catch (error) {
    console.error(error.message);
    return 2;
  }
}
