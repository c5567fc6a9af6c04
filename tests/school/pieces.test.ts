import { afterAll, beforeAll, expect, test } from 'vitest';
import { PIECE_BYTES, PIECES } from '#sync';
import { sha256Hex } from '#store/pure';
import { MOST_PIECES } from '../../src/school/pieces.ts';
import { schoolStage, type Device, type Stage, STARTING } from './stage.ts';

let stage: Stage;
beforeAll(async () => {
  stage = await schoolStage();
}, STARTING);
afterAll(() => stage.close());

/** A device whose uploads of pieces can be seen, cut and held back. */
async function watched(name: string) {
  const uploads: { pieces: number; bytes: number }[] = [];
  const way: { cut: (pieces: number) => 'before' | 'after' | null } = { cut: () => null };
  const device = await stage.device(name, {
    async fetch(input, init) {
      if (!String(input).endsWith('/pieces')) return fetch(input, init);
      const body = init?.body instanceof Uint8Array ? init.body : new Uint8Array();
      const list = new TextDecoder().decode(body.subarray(0, body.indexOf(10)));
      const pieces = (JSON.parse(list) as unknown[]).length;
      uploads.push({ pieces, bytes: body.length });
      const cut = way.cut(pieces);
      if (cut === 'before') throw new TypeError('The network was cut.');
      const answer = await fetch(input, init);
      if (cut === 'after') throw new TypeError('The network was cut.');
      return answer;
    },
  });
  await device.join(await stage.code(await stage.person(name, ['pilot'])));
  return { device, uploads, way };
}

/** A walk that goes on, with pieces of sound that nobody else has. */
async function speaks(device: Device, count: number, size: number) {
  const walk = await device.walk({ open: true });
  const hashes: string[] = [];
  for (let chunk = 0; chunk < count; chunk += 1) {
    const data = Uint8Array.from({ length: size }, (_, i) => (i * 7 + chunk) % 251);
    data.set(new TextEncoder().encode(`${device.name} ${chunk} `.slice(0, size)));
    hashes.push(sha256Hex(data));
    const recording = `recording-${walk}`;
    await device.store.keepSound({
      walk,
      aircraft: 'R-102',
      t: 1,
      recording,
      chunk,
      place: { recording, from: chunk * 2, to: chunk * 2 + 2 },
      mime: 'audio/wav',
      data: data.buffer,
    });
  }
  return { walk, hashes };
}

const kept = (hashes: readonly string[]) => hashes.filter((h) => stage.blobs.all.has(h)).length;

test('19: sound goes up sixteen pieces at a time, fewer when they are large, one that is larger alone', async () => {
  expect(PIECES).toBe(MOST_PIECES);
  const { device, uploads } = await watched('A. Alder');
  const many = await speaks(device, 40, 60);
  await device.sync();
  expect(uploads.map((u) => u.pieces)).toEqual([16, 16, 8]);
  expect(kept(many.hashes)).toBe(40);
  uploads.length = 0;
  const large = await speaks(device, 5, PIECE_BYTES / 2 - 100);
  const huge = await speaks(device, 1, PIECE_BYTES * 2);
  await device.sync();
  expect(uploads.map((u) => u.pieces).sort()).toEqual([1, 1, 2, 2]);
  expect(kept([...large.hashes, ...huge.hashes])).toBe(6);
  uploads.length = 0;
  await device.sync();
  expect(uploads).toEqual([]);
});

test('19: an upload that breaks off goes on where it was: what came is not sent again, and nothing is there twice', async () => {
  const { device, uploads, way } = await watched('B. Birch');
  const { hashes } = await speaks(device, 40, 70);
  let n = 0;
  // The answer to the second is lost; what follows does not come through at all.
  way.cut = () => ((n += 1), n === 2 ? 'after' : n > 2 ? 'before' : null);
  await expect(device.sync()).rejects.toThrow('cannot be reached');
  expect(uploads.map((u) => u.pieces)).toEqual([16, 16, 1]);
  expect(kept(hashes)).toBe(32);
  uploads.length = 0;
  way.cut = () => null;
  await device.sync();
  expect(uploads.map((u) => u.pieces)).toEqual([8]);
  expect(kept(hashes)).toBe(40);
});

test('19: what does not come through together comes through one by one', async () => {
  const { device, uploads, way } = await watched('C. Cedar');
  const { hashes } = await speaks(device, 5, 80);
  way.cut = (pieces) => (pieces > 1 ? 'before' : null);
  await device.sync();
  expect(uploads.map((u) => u.pieces)).toEqual([5, 1, 1, 1, 1, 1]);
  expect(kept(hashes)).toBe(5);
});

test('19: what a device has lost keeps nothing back that it has', async () => {
  const { device } = await watched('D. Dogwood');
  const lost = await speaks(device, 70, 50);
  const there = await speaks(device, 3, 51);
  const whole = device.store.sound.bind(device.store);
  // More than a page of it.
  device.store.sound = (recording, of) =>
    recording === `recording-${lost.walk}`
      ? Promise.resolve({ recording, mime: null, chunks: [], missing: [], erased: null })
      : whole(recording, of);
  await device.sync();
  expect([kept(lost.hashes), kept(there.hashes)]).toEqual([0, 3]);
});

test('19: of an upload each piece is judged by itself; the same again is the same as once', async () => {
  const { device } = await watched('E. Elm');
  const { hashes } = await speaks(device, 2, 90);
  const log = await device.store.ownLog(null);
  await device.in().events(log);
  const [first = '', second = ''] = hashes;
  const sound = await device.store.sound(`recording-${(await device.store.all())[0]?.walk ?? ''}`);
  const bytes = new Uint8Array(sound.chunks[0]?.data ?? new ArrayBuffer());
  const strange = 'a'.repeat(64);
  const upload = [
    { hash: first, bytes },
    { hash: second, bytes },
    { hash: strange, bytes },
  ];
  for (let twice = 0; twice < 2; twice += 1)
    expect(await device.in().givePieces(upload)).toEqual({
      kept: [first],
      refused: [
        {
          hash: second,
          why: 'It is not the sound or the picture that the log names.',
          gone: false,
        },
        {
          hash: strange,
          why: 'No event of this device names this piece: send the events first.',
          gone: false,
        },
      ],
    });
  expect(kept([first, second, strange])).toBe(1);
});

test('19: limits of an upload, one sentence each: too many, too large, no list, a list that lies', async () => {
  const { device } = await watched('F. Fir');
  const one = { hash: 'b'.repeat(64), bytes: Uint8Array.from([1, 2, 3]) };
  const seventeen = Array.from({ length: MOST_PIECES + 1 }, () => one);
  await expect(device.in().givePieces(seventeen)).rejects.toThrow('lists 1 to 16 pieces');
  await expect(device.in().givePieces([])).rejects.toThrow('lists 1 to 16 pieces');
  await expect(
    device.in().givePieces([{ ...one, bytes: new Uint8Array(13 * 1024 * 1024) }]),
  ).rejects.toThrow('which is the limit');
  const { readPieces } = await import('../../src/school/pieces.ts');
  const said = (text: string) => () => readPieces(new TextEncoder().encode(text));
  const list = (bytes: number) => `${JSON.stringify([{ hash: one.hash, bytes }])}\n`;
  expect(said('no list at all')).toThrow('begins with a line that lists');
  expect(said(`{"a":1}\nabc`)).toThrow('begins with a line that lists');
  expect(said(`${list(3)}abcd`)).toThrow('says 3 bytes, and 4 came: send it again');
  expect(said(`${list(3)}ab`)).toThrow('says 3 bytes, and 2 came: send it again');
  expect(said(`${list(3)}abc`)()[0]?.bytes).toEqual(new TextEncoder().encode('abc'));
  await expect(device.in().wanted('nonsense')).rejects.toThrow('no cursor');
});
