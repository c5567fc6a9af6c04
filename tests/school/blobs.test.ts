import { mkdirSync, mkdtempSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { AwsClient } from 'aws4fetch';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { deleteUnkept, folderBlobs, s3Blobs, StoreAway, type Blobs } from '#school';
import { sha256Hex } from '#store/pure';
import { startBucket, type Bucket } from './bucket.ts';
import { schoolStage, STARTING } from './stage.ts';

/** One set of laws for wherever sound and pictures lie. The bucket is a server that speaks S3 and verifies signatures. */
const folder = mkdtempSync(join(tmpdir(), 'talkround-blobs-'));
let bucket: Bucket;
beforeAll(async () => {
  bucket = await startBucket();
}, STARTING);
afterAll(async () => {
  await bucket.close();
  rmSync(folder, { recursive: true, force: true });
});

const bytesOf = (words: string) => new TextEncoder().encode(words);
function piece(words: string) {
  const bytes = bytesOf(words);
  return { bytes, hash: sha256Hex(bytes) };
}

const KINDS: readonly [string, () => Blobs][] = [
  ['a folder', () => folderBlobs(join(folder, 'sound'))],
  ['a bucket', () => s3Blobs(bucket.settings)],
];

describe.each(KINDS)('19: %s', (kind, made) => {
  test('what is put in comes out, byte for byte, however often it is put in', async () => {
    const blobs = made();
    const all = [
      piece(`${kind} one`),
      piece(`${kind} two`),
      { bytes: new Uint8Array(), hash: sha256Hex('') },
    ];
    const large = Uint8Array.from({ length: 300_000 }, (_, i) => (i * i) % 256);
    all.push({ bytes: large, hash: sha256Hex(large) });
    for (const { hash, bytes } of all) {
      expect(await blobs.get('s-1', hash)).toBeNull();
      await blobs.put('s-1', hash, bytes);
      await blobs.put('s-1', hash, bytes);
      expect(await blobs.get('s-1', hash)).toEqual(bytes);
      // Another school's is another's.
      expect(await blobs.get('s-2', hash)).toBeNull();
    }
    await blobs.check();
  });

  test('what is removed is gone; removing what is not there is nothing', async () => {
    const blobs = made();
    const { hash, bytes } = piece(`${kind} gone`);
    await blobs.remove('s-1', hash);
    await blobs.put('s-1', hash, bytes);
    await blobs.remove('s-1', hash);
    await blobs.remove('s-1', hash);
    expect(await blobs.get('s-1', hash)).toBeNull();
    await blobs.put('s-1', hash, bytes);
    expect(await blobs.get('s-1', hash)).toEqual(bytes);
  });

  test('many at once do not disturb each other', async () => {
    const blobs = made();
    const all = Array.from({ length: 24 }, (_, i) => piece(`${kind} many ${i % 8}`));
    await Promise.all(all.map(({ hash, bytes }) => blobs.put('s-3', hash, bytes)));
    for (const { hash, bytes } of all) expect(await blobs.get('s-3', hash)).toEqual(bytes);
  });
});

test('19: in a folder: for its owner only; half of a piece, left by a server that was killed, is never given out and is made whole', async () => {
  const blobs = folderBlobs(join(folder, 'half'));
  const { hash, bytes } = piece('a piece that was cut in the middle');
  const place = join(folder, 'half', 's-1', hash.slice(0, 2));
  mkdirSync(place, { recursive: true });
  writeFileSync(join(place, `${hash}.999.part`), bytes.subarray(0, 9));
  expect(await blobs.get('s-1', hash)).toBeNull();
  // And half of it under its own name, as a disk leaves it that lost its power.
  writeFileSync(join(place, hash), bytes.subarray(0, 9));
  await blobs.put('s-1', hash, bytes);
  expect(await blobs.get('s-1', hash)).toEqual(bytes);
  expect(statSync(join(place, hash)).mode & 0o077).toBe(0);
});

test('19: a folder that cannot be used: one sentence that names it', async () => {
  const file = join(folder, 'a-file');
  writeFileSync(file, 'not a folder');
  const blobs = folderBlobs(file);
  const { hash, bytes } = piece('nowhere to go');
  const works = [
    () => blobs.put('s-1', hash, bytes),
    () => blobs.get('s-1', hash),
    () => blobs.check(),
  ];
  for (const work of works)
    await expect(work()).rejects.toThrow(
      `Sound and pictures cannot be kept in ${file}. The disk answers`,
    );
});

/** What the store says to a setting that is wrong in one place. */
async function said(wrong: Partial<Bucket['settings']>): Promise<StoreAway> {
  const blobs = s3Blobs({ ...bucket.settings, ...wrong });
  const { hash, bytes } = piece('never kept');
  for (const work of [() => blobs.put('s-1', hash, bytes), () => blobs.get('s-1', hash)])
    await expect(work()).rejects.toBeInstanceOf(StoreAway);
  const error: unknown = await blobs.check().catch((e: unknown) => e);
  if (!(error instanceof StoreAway)) throw new Error('Nothing was said.');
  return error;
}

test('19: wrong keys, no such bucket, nobody there: one sentence each, which says what to look at', async () => {
  const keys = await said({ secretAccessKey: 'guessed' });
  expect([keys.message, keys.forGood]).toEqual([
    `The bucket at ${bucket.settings.url} refuses these keys. Look at AWS_ACCESS_KEY_ID, AWS_SECRET_ACCESS_KEY and SCHOOL_S3_REGION.`,
    true,
  ]);
  expect((await said({ accessKeyId: 'nobody' })).message).toContain('refuses these keys');
  const url = bucket.settings.url.replace('/school', '/elsewhere');
  const none = await said({ url });
  expect([none.message, none.forGood]).toEqual([
    `There is no bucket at ${url}. Make it, or correct SCHOOL_S3_URL.`,
    true,
  ]);
  const nobody = await said({ url: 'http://127.0.0.1:1/school' });
  expect(nobody.message).toContain('The bucket at http://127.0.0.1:1/school cannot be reached.');
  expect(nobody.forGood).toBe(false);
});

test('19: other bytes than the hash says are never given out, whatever the store took', async () => {
  const blobs = s3Blobs(bucket.settings);
  const { hash, bytes } = piece('what it should be');
  await blobs.put('s-1', hash, bytesOf('what it is not')).catch(() => undefined);
  expect(await blobs.get('s-1', hash)).toBeNull();
  await blobs.put('s-1', hash, bytes);
  expect(await blobs.get('s-1', hash)).toEqual(bytes);
});

test(
  '19: sound that the school has lost is asked for again from the device that has it',
  async () => {
    const stage = await schoolStage();
    try {
      const phone = await stage.joined('A. Alder', ['pilot']);
      const sound = bytesOf('sound that a disk loses');
      await phone.walk({ sound });
      await phone.sync();
      const hash = sha256Hex(sound);
      expect(stage.blobs.all.delete(hash)).toBe(true);
      await expect(phone.in().sound(hash)).rejects.toThrow('has lost this sound');
      await phone.sync();
      expect(await phone.in().sound(hash)).toEqual(sound);
    } finally {
      await stage.close();
    }
  },
  STARTING,
);

test('19: half an upload to a bucket is not given out; the whole one comes through after it', async () => {
  const { hash, bytes } = piece('x'.repeat(5000));
  const { url, ...keys } = bucket.settings;
  const client = new AwsClient({ ...keys, service: 's3' });
  const at = `${url}/s-1/${hash.slice(0, 2)}/${hash}`;
  const request = await client.sign(at, {
    method: 'PUT',
    headers: { 'X-Amz-Content-Sha256': hash },
    body: bytes,
  });
  const { host, port, hostname, pathname } = new URL(at);
  const lines = [...request.headers].map(([name, value]) => `${name}: ${value}`);
  const head = `PUT ${pathname} HTTP/1.1\r\nhost: ${host}\r\n${lines.join('\r\n')}\r\ncontent-length: ${bytes.length}\r\n\r\n`;
  await new Promise<void>((resolve) => {
    const socket = connect(Number(port), hostname, () => {
      socket.write(head);
      socket.write(bytes.subarray(0, 2500), () => setTimeout(() => socket.destroy(), 100));
    });
    socket.on('error', () => undefined);
    socket.on('close', () => resolve());
  });
  const blobs = s3Blobs(bucket.settings);
  expect(await blobs.get('s-1', hash)).toBeNull();
  await blobs.put('s-1', hash, bytes);
  expect(await blobs.get('s-1', hash)).toEqual(bytes);
});

test(
  '19: while the bucket is away words go up, sound waits and is told; back again, everything goes on, and what was erased meanwhile is deleted',
  async () => {
    const blobs = s3Blobs(bucket.settings);
    const stage = await schoolStage({ blobs });
    try {
      const phone = await stage.joined('A. Alder', ['pilot']);
      const reader = await stage.joined('B. Birch', ['maintenance']);
      const first = bytesOf('sound before the bucket went away');
      const early = await phone.walk({ sound: first });
      await phone.sync();
      expect(await blobs.get(stage.school, sha256Hex(first))).toEqual(first);

      await bucket.away();
      const second = bytesOf('sound while the bucket is away');
      await phone.walk({ sound: second, squawk: 'oil on the left skid' });
      await phone.sync();
      expect((await phone.in().hello([])).head).toBe(await phone.store.ownHead());
      expect(phone.progress().told.map((t) => t.why)).toEqual([
        'Where the school keeps sound and pictures cannot be reached now. They stay on this device and are sent again by themselves.',
      ]);
      await reader.sync();
      expect(await reader.store.squawkEvents()).toHaveLength(1);
      await expect(phone.in().sound(sha256Hex(first))).rejects.toThrow('cannot be reached now');
      const health = await fetch(stage.base.replace('/school/', '/health'));
      expect(await health.json()).toMatchObject({ ok: true, sound: 'away' });
      // The log of the server says where and what.
      expect(JSON.stringify(stage.lines)).toContain('cannot be reached. Look at SCHOOL_S3_URL');
      await phone.store.eraseSound(`recording-${early}`, 'asked for');
      await phone.sync();
      expect(await deleteUnkept(stage.database, blobs)).toBe(1);

      await bucket.back();
      expect(await blobs.get(stage.school, sha256Hex(first))).toEqual(first);
      expect(await deleteUnkept(stage.database, blobs)).toBe(0);
      expect(await blobs.get(stage.school, sha256Hex(first))).toBeNull();
      await phone.sync();
      expect(await blobs.get(stage.school, sha256Hex(second))).toEqual(second);
      expect((await phone.in().wanted(null)).wanted).toEqual([]);
    } finally {
      await stage.close();
    }
  },
  STARTING * 2,
);

test('19: a folder of sound holds nothing but pieces under their hashes', async () => {
  const blobs = folderBlobs(join(folder, 'names'));
  const { hash, bytes } = piece('one');
  await blobs.put('s-1', hash, bytes);
  expect(readdirSync(join(folder, 'names'), { recursive: true }).sort()).toEqual(
    ['s-1', join('s-1', hash.slice(0, 2)), join('s-1', hash.slice(0, 2), hash)].sort(),
  );
});
