import { spawn, type ChildProcess } from 'node:child_process';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

/** The server in a process of its own: whatever ends it is seen from outside. */
export interface Child {
  readonly port: number;
  /** Null while it lives; how it ended otherwise. */
  ended(): string | null;
  /** What it wrote to standard error. */
  errors(): string;
  stop(): Promise<void>;
}

export async function startChild(options: object): Promise<Child> {
  const module = pathToFileURL(join(process.cwd(), 'src/serve/serve.mjs')).href;
  const program = `
    const { serve } = await import(${JSON.stringify(module)});
    const server = await serve(${JSON.stringify(options)});
    console.log(server.port);
  `;
  const child: ChildProcess = spawn(process.execPath, ['--input-type=module', '--eval', program], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let errors = '';
  let ended: string | null = null;
  child.stderr?.on('data', (part: Buffer) => (errors += part.toString()));
  const exit = new Promise<void>((resolve) =>
    child.on('exit', (code, signal) => {
      ended = `code ${String(code)}, signal ${String(signal)}`;
      resolve();
    }),
  );
  const port = await new Promise<number>((resolve, reject) => {
    child.stdout?.once('data', (part: Buffer) => resolve(Number(part.toString())));
    void exit.then(() => reject(new Error(`The server did not start: ${errors}`)));
  });
  return {
    port,
    ended: () => ended,
    errors: () => errors,
    async stop() {
      child.kill();
      await exit;
    },
  };
}
