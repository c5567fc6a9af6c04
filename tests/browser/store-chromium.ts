import { connect, createServer, type Socket } from 'node:net';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium, type Browser } from 'playwright-core';

interface Served {
  readonly port: number;
  close(): Promise<void>;
}

/** Serves a folder with the app's own server. */
export async function serveFolder(folder: string, port = 0): Promise<Served> {
  const path = pathToFileURL(join(process.cwd(), 'src/serve/serve.mjs')).href;
  const { serve } = (await import(path)) as {
    serve(options: { folder: string; port: number }): Promise<Served>;
  };
  return serve({ folder, port });
}

export const APP = join(process.cwd(), 'dist', 'app');

export function startChromium(args: readonly string[] = []): Promise<Browser> {
  return chromium.launch({
    executablePath: process.env['CHROMIUM'] ?? '/usr/bin/chromium',
    args: ['--no-sandbox', ...args],
  });
}

/**
 * A wire between browser and server that counts what goes over it, and that can
 * be cut: below the browser, so that nothing in it can hide a request.
 */
export async function wireTo(port: number): Promise<{
  readonly url: string;
  /** First lines of the requests so far. */
  readonly requests: string[];
  cut(): void;
  close(): Promise<void>;
}> {
  const requests: string[] = [];
  const open = new Set<Socket>();
  let whole = true;
  const server = createServer((client) => {
    if (!whole) {
      open.add(client);
      client.on('error', () => client.destroy());
      client.on('close', () => open.delete(client));
      // Heard out, so that it is known what was tried, and cut off without an answer.
      client.once('data', (data) => {
        requests.push(`(refused) ${data.toString('latin1').split('\r\n')[0] ?? ''}`);
        client.destroy();
      });
      return;
    }
    const upstream = connect(port, '127.0.0.1');
    for (const socket of [client, upstream]) {
      open.add(socket);
      socket.on('close', () => open.delete(socket));
      socket.on('error', () => {
        client.destroy();
        upstream.destroy();
      });
    }
    client.on('data', (data) => {
      for (const line of data.toString('latin1').split('\r\n'))
        if (/^[A-Z]+ \S+ HTTP\/1\.[01]$/.test(line)) requests.push(line);
    });
    client.pipe(upstream);
    upstream.pipe(client);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  const here = typeof address === 'object' && address !== null ? address.port : 0;
  const end = () => {
    for (const socket of open) socket.destroy();
  };
  return {
    url: `http://localhost:${here}/`,
    requests,
    cut() {
      whole = false;
      end();
    },
    close() {
      end();
      return new Promise((resolve) => server.close(() => resolve()));
    },
  };
}
