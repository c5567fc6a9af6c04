import { mkdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { AwsClient } from 'aws4fetch';

/** Where sound and pictures lie, by the SHA-256 of their bytes. */
export interface Blobs {
  put(school: string, hash: string, bytes: Uint8Array): Promise<void>;
  /** null: it is not there. */
  get(school: string, hash: string): Promise<Uint8Array | null>;
  /** Not an error when it is not there. */
  remove(school: string, hash: string): Promise<void>;
}

/** In a folder, a thousand or so to each folder of it. */
export function folderBlobs(folder: string): Blobs {
  const path = (school: string, hash: string) => join(folder, school, hash.slice(0, 2), hash);
  return {
    async put(school, hash, bytes) {
      const file = path(school, hash);
      if ((await stat(file).catch(() => null))?.size === bytes.length) return;
      await mkdir(join(file, '..'), { recursive: true, mode: 0o700 });
      // Whole or not at all: a server that is killed leaves a name that nobody asks for.
      const part = `${file}.${process.pid}.part`;
      await writeFile(part, bytes, { mode: 0o600, flush: true });
      await rename(part, file);
    },
    async get(school, hash) {
      try {
        return Uint8Array.from(await readFile(path(school, hash)));
      } catch {
        return null;
      }
    },
    remove: (school, hash) => rm(path(school, hash), { force: true }),
  };
}

export interface S3Settings {
  /** Address of the bucket, such as https://storage.example/bucket. */
  readonly url: string;
  readonly accessKeyId: string;
  readonly secretAccessKey: string;
  readonly region: string;
}

/** In any store that speaks S3. */
export function s3Blobs(settings: S3Settings, send: typeof fetch = fetch): Blobs {
  const { accessKeyId, secretAccessKey, region } = settings;
  const client = new AwsClient({ accessKeyId, secretAccessKey, region, service: 's3' });
  const base = settings.url.replace(/\/$/, '');
  async function ask(method: string, school: string, hash: string, body?: Uint8Array) {
    const url = `${base}/${school}/${hash.slice(0, 2)}/${hash}`;
    const init = body === undefined ? { method } : { method, body: Uint8Array.from(body) };
    const answer = await send(await client.sign(url, init));
    if (!answer.ok && answer.status !== 404)
      throw new Error(`The store of sound answers ${answer.status} to ${method}.`);
    return answer;
  }
  return {
    async put(school, hash, bytes) {
      const answer = await ask('PUT', school, hash, bytes);
      if (!answer.ok) throw new Error('The store of sound has no such bucket.');
    },
    async get(school, hash) {
      const answer = await ask('GET', school, hash);
      return answer.ok ? new Uint8Array(await answer.arrayBuffer()) : null;
    },
    async remove(school, hash) {
      await ask('DELETE', school, hash);
    },
  };
}
