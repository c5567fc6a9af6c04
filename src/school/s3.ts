import { AwsClient } from 'aws4fetch';
import { StoreAway, whole, type Blobs } from './blobs.ts';

export interface S3Settings {
  /** Address of the bucket, such as https://storage.example/bucket. */
  readonly url: string;
  readonly accessKeyId: string;
  readonly secretAccessKey: string;
  readonly region: string;
}

/** How long one piece may take, milliseconds: the phone waits meanwhile, and asks again after a minute. */
const PATIENCE = 20_000;

/** SHA-256 of nothing: what is asked for has no body. */
const NOTHING = 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855';

/** In any store that speaks S3. */
export function s3Blobs(settings: S3Settings, send: typeof fetch = fetch): Blobs {
  const { accessKeyId, secretAccessKey, region } = settings;
  const client = new AwsClient({ accessKeyId, secretAccessKey, region, service: 's3' });
  const base = settings.url.replace(/\/$/, '');
  async function ask(method: string, key: string, body?: { bytes: Uint8Array; hash: string }) {
    const init = {
      method,
      // Signed with it, so that the store takes these bytes and no others.
      headers: { 'X-Amz-Content-Sha256': body?.hash ?? NOTHING },
      ...(body === undefined ? {} : { body: Uint8Array.from(body.bytes) }),
    };
    let answer: Response;
    let text = '';
    try {
      const request = await client.sign(`${base}/${key}`, init);
      answer = await send(request, { signal: AbortSignal.timeout(PATIENCE) });
      if (!answer.ok) text = await answer.text();
    } catch (cause) {
      throw new StoreAway(
        `The bucket at ${base} cannot be reached. Look at SCHOOL_S3_URL and at the network; what waits is sent again by itself.`,
        { cause },
      );
    }
    const code = /<Code>(\w{1,60})<\/Code>/.exec(text)?.[1] ?? '';
    if (answer.ok || (answer.status === 404 && code !== 'NoSuchBucket')) return answer;
    throw new StoreAway(sentence(base, answer.status, code), {
      forGood: code === 'NoSuchBucket' || [401, 403].includes(answer.status),
    });
  }
  const keyOf = (school: string, hash: string) => `${school}/${hash.slice(0, 2)}/${hash}`;
  return {
    async put(school, hash, bytes) {
      const answer = await ask('PUT', keyOf(school, hash), { bytes, hash });
      if (!answer.ok) throw new StoreAway(sentence(base, answer.status, ''), { forGood: true });
    },
    async get(school, hash) {
      const answer = await ask('GET', keyOf(school, hash));
      if (!answer.ok) return null;
      try {
        return whole(hash, new Uint8Array(await answer.arrayBuffer()));
      } catch (cause) {
        throw new StoreAway(`The bucket at ${base} broke off in the middle of its answer.`, {
          cause,
        });
      }
    },
    async remove(school, hash) {
      await ask('DELETE', keyOf(school, hash));
    },
    async check() {
      // A name that is never given: that it is not there says that the keys are good.
      await ask('GET', 'check');
    },
  };
}

function sentence(base: string, status: number, code: string): string {
  if (code === 'NoSuchBucket' || status === 404)
    return `There is no bucket at ${base}. Make it, or correct SCHOOL_S3_URL.`;
  if (code === 'RequestTimeTooSkewed')
    return `The bucket at ${base} finds the clock of this server wrong. Set the clock.`;
  if (code === 'AccessDenied')
    return `The bucket at ${base} does not allow these keys to read, write, delete and list. Allow it all four, or look at AWS_ACCESS_KEY_ID.`;
  if (status === 401 || status === 403)
    return `The bucket at ${base} refuses these keys. Look at AWS_ACCESS_KEY_ID, AWS_SECRET_ACCESS_KEY and SCHOOL_S3_REGION.`;
  return `The bucket at ${base} answers ${status}${code === '' ? '' : ` (${code})`}. Look at it; what waits is sent again by itself.`;
}
