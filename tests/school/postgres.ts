import { spawnSync } from 'node:child_process';
import { chownSync, existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** A PostgreSQL of our own, in a folder that goes away. */
export interface Postgres {
  readonly url: string;
  stop(): void;
}

const FOLDERS = ['/usr/lib/postgresql', '/usr/local/pgsql', '/opt/homebrew/opt/postgresql'];
const OLDEST = 15;

/** Where its programs are, the newest first; null: there is none that is new enough. */
function programs(): string | null {
  const found = FOLDERS.filter((f) => existsSync(f)).flatMap((folder) =>
    readdirSync(folder)
      .filter((name) => Number(name) >= OLDEST)
      .sort((a, b) => Number(b) - Number(a))
      .map((name) => join(folder, name, 'bin')),
  );
  return found.find((bin) => existsSync(join(bin, 'initdb'))) ?? null;
}

/** It refuses to run as root: then it runs as Debian's own user for it. */
function uidFor(): { uid: number; gid: number } | null | 'nobody' {
  if (process.getuid?.() !== 0) return null;
  const id = (flag: string) =>
    Number(spawnSync('id', [flag, 'postgres'], { encoding: 'utf8' }).stdout);
  const uid = id('-u');
  return uid > 0 ? { uid, gid: id('-g') } : 'nobody';
}

/** Starts one, installing Debian's where that may be done; a sentence when there is none to be had. */
export async function startPostgres(): Promise<Postgres | string> {
  if (programs() === null && process.getuid?.() === 0 && existsSync('/etc/debian_version')) {
    const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
    spawnSync('apt-get', ['update', '-qq'], { env });
    spawnSync('apt-get', ['install', '-y', '-qq', '--no-install-recommends', 'postgresql'], {
      env,
    });
  }
  const bin = programs();
  const who = uidFor();
  if (bin === null || who === 'nobody')
    return `There is no PostgreSQL ${OLDEST} or later on this machine.`;
  const folder = mkdtempSync(join(tmpdir(), 'talkround-postgres-'));
  if (who !== null) chownSync(folder, who.uid, who.gid);
  const port = await freePort();
  const data = join(folder, 'data');
  const run = (program: string, words: string[]) => {
    const done = spawnSync(join(bin, program), words, {
      cwd: folder,
      stdio: 'ignore',
      ...(who ?? {}),
    });
    return done.status === 0;
  };
  const made =
    run('initdb', ['-D', data, '-U', 'talkround', '-A', 'trust', '-E', 'UTF8', '--locale=C']) &&
    run('pg_ctl', [
      '-D',
      data,
      '-w',
      '-l',
      join(folder, 'log'),
      '-o',
      `-p ${port} -k ${folder} -c listen_addresses=127.0.0.1`,
      'start',
    ]);
  if (!made) {
    rmSync(folder, { recursive: true, force: true });
    return `The PostgreSQL in ${bin} could not be started.`;
  }
  return {
    url: `postgres://talkround@127.0.0.1:${port}/postgres`,
    stop() {
      run('pg_ctl', ['-D', data, '-m', 'immediate', 'stop']);
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

function freePort(): Promise<number> {
  return new Promise((resolve) => {
    const server = createServer();
    server.listen(0, '127.0.0.1', () => {
      const address = server.address();
      const port = typeof address === 'object' && address !== null ? address.port : 0;
      server.close(() => resolve(port));
    });
  });
}
