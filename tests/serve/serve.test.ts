import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { expect, test } from 'vitest';

interface Served {
  readonly port: number;
  close(): Promise<void>;
}

test('a file that a new build took away is not found, and the server goes on', async () => {
  const file = pathToFileURL(join(process.cwd(), 'src/serve/serve.mjs')).href;
  const { serve } = (await import(/* @vite-ignore */ file)) as {
    serve: (options: { folder: string }) => Promise<Served>;
  };
  const folder = mkdtempSync(join(tmpdir(), 'talkround-serve-'));
  writeFileSync(join(folder, 'index.html'), 'begin');
  writeFileSync(join(folder, 'old.txt'), 'old');
  const server = await serve({ folder });
  const get = async (path: string) => {
    const answer = await fetch(`http://127.0.0.1:${server.port}${path}`);
    return [answer.status, await answer.text()] as const;
  };
  try {
    expect(await get('/old.txt')).toEqual([200, 'old']);
    rmSync(join(folder, 'old.txt'));
    expect(await get('/old.txt')).toEqual([404, 'Not found.']);
    expect(await get('/')).toEqual([200, 'begin']);
    expect((await get('/%E0%A4%A'))[0]).toBe(404);
    expect((await get('/..%2f..%2fetc%2fpasswd'))[0]).toBe(404);
    rmSync(join(folder, 'index.html'));
    expect((await get('/'))[0]).toBe(404);
  } finally {
    await server.close();
    rmSync(folder, { recursive: true, force: true });
  }
});
