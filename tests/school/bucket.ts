import { mkdtempSync, rmSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import S3rver from '@20minutes/s3rver';
import type { S3Settings } from '#school';

/** A store of its own that speaks S3, verifies signatures, and can be away. */
export interface Bucket {
  readonly settings: S3Settings;
  away(): Promise<void>;
  back(): Promise<void>;
  close(): Promise<void>;
}

/** The one account that it knows. */
const KEY = 'S3RVER';

export async function startBucket(): Promise<Bucket> {
  const directory = mkdtempSync(join(tmpdir(), 'talkround-bucket-'));
  const options = {
    directory,
    silent: true,
    resetOnClose: false,
    configureBuckets: [{ name: 'school', configs: [] }],
  };
  const store = new S3rver(options);
  await store.configureBuckets();
  let server: Server | null = null;
  const listen = (port: number) =>
    new Promise<number>((resolve) => {
      const next = createServer(store.callback());
      server = next;
      next.listen(port, '127.0.0.1', () => resolve((next.address() as AddressInfo).port));
    });
  const port = await listen(0);
  async function away(): Promise<void> {
    const gone = server;
    server = null;
    if (gone === null) return;
    const closed = new Promise((resolve) => gone.close(resolve));
    gone.closeAllConnections();
    await closed;
  }
  return {
    settings: {
      url: `http://127.0.0.1:${port}/school`,
      accessKeyId: KEY,
      secretAccessKey: KEY,
      region: 'us-east-1',
    },
    away,
    back: async () => void (await listen(port)),
    async close() {
      await away();
      rmSync(directory, { recursive: true, force: true });
    },
  };
}
