import { spawn, type ChildProcess } from 'node:child_process';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { ensureBuilt } from '../../src/serve/ensure.mjs';

/** A school's server in a process of its own, to be killed. */
export interface SchoolServer {
  readonly port: number;
  /** SIGKILL: nothing is put away. */
  kill(): Promise<void>;
  /** On the same port, from what is on the disk. */
  start(): Promise<void>;
  /** What it wrote to standard error. */
  errors(): string;
  readonly pid: () => number;
}

export interface ServerOptions {
  readonly folder: string;
  readonly url?: string | undefined;
  /** Requests of one device in ten seconds. */
  readonly rate: number;
}

const at = (path: string) => JSON.stringify(pathToFileURL(join(process.cwd(), path)).href);

export async function schoolServer(options: ServerOptions): Promise<SchoolServer> {
  await ensureBuilt('school');
  const program = (port: number) => `
    const { openSchool } = await import(${at('dist/school/main.js')});
    const { serve } = await import(${at('src/serve/serve.mjs')});
    const school = await openSchool({
      folder: ${JSON.stringify(options.folder)},
      surroundings: ${JSON.stringify({ DATABASE_URL: options.url })},
      log: (line) => line.what === 'failed' && console.error(JSON.stringify(line)),
      rate: ${options.rate},
    });
    const limits = { request: 120000, stalled: 60000, connections: 2000 };
    const server = await serve({ port: ${port}, answer: school.answer, limits });
    console.log(server.port);
  `;
  let child: ChildProcess | null = null;
  let errors = '';
  async function open(port: number): Promise<number> {
    const next = spawn(process.execPath, ['--input-type=module', '--eval', program(port)], {
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    child = next;
    next.stderr.on('data', (part: Buffer) => (errors += part.toString()));
    return new Promise<number>((resolve, reject) => {
      next.stdout.once('data', (part: Buffer) => resolve(Number(part.toString())));
      next.once('exit', () => reject(new Error(`The server did not start: ${errors}`)));
    });
  }
  const port = await open(0);
  return {
    port,
    errors: () => errors,
    pid: () => child?.pid ?? 0,
    async kill() {
      const dying = child;
      if (dying === null) return;
      const gone = new Promise((resolve) => dying.once('exit', resolve));
      dying.kill('SIGKILL');
      await gone;
      child = null;
    },
    async start() {
      await open(port);
    },
  };
}
