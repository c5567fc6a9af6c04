import { describe, expect, test } from 'vitest';
import { LARGEST_FILE, readPicture, type PicturePlatform } from '#capture';
import { bareJpeg, pictureKind, sizeIn } from '../../src/capture/picture.ts';
import { LONGEST_SIDE, MAX_PICTURE_BYTES } from '#shared/picture';

/** Issue 16: photographs; bad input gets one clear sentence. */

const bytes = (...parts: (string | number[])[]) =>
  Uint8Array.from(
    parts.flatMap((p) => (typeof p === 'string' ? [...p].map((c) => c.charCodeAt(0)) : p)),
  );

/** A JPEG's head: APP1 of a camera, then the frame header. */
const jpeg = (width: number, height: number) =>
  bytes([0xff, 0xd8, 0xff, 0xe1, 0, 8], 'Exif\0\0', [
    0xff,
    0xc0,
    0,
    17,
    8,
    height >> 8,
    height & 255,
    width >> 8,
    width & 255,
    3,
    0,
    0,
    0,
  ]);
const png = (width: number, height: number) => {
  const head = new Uint8Array(33);
  head.set(bytes('\x89PNG\r\n\x1a\n', [0, 0, 0, 13], 'IHDR'));
  new DataView(head.buffer).setUint32(16, width);
  new DataView(head.buffer).setUint32(20, height);
  return head;
};
const heic = bytes([0, 0, 0, 24], 'ftypheic', [0, 0, 0, 0], 'mif1heic');

const file = (data: Uint8Array, name: string) => new File([Uint8Array.from(data)], name);

interface Source {
  width: number;
  height: number;
}

/** A JPEG of nothing but pixels. */
function scan(size: number): Uint8Array<ArrayBuffer> {
  const made = new Uint8Array(Math.max(size, 6));
  made.set([0xff, 0xd8, 0xff, 0xda, 0, 2]);
  return made;
}

/** A browser that reads anything, and whose JPEG has so many bytes a pixel and quality. */
function browser(size: Source, perPixel = 0.1): PicturePlatform<Source> & { open: number } {
  const platform = {
    open: 0,
    decode() {
      platform.open += 1;
      return Promise.resolve(size);
    },
    encode: (_from: Source, width: number, height: number, quality: number) =>
      Promise.resolve(
        new Blob([scan(Math.round(width * height * quality * perPixel))], {
          type: 'image/jpeg',
        }),
      ),
    close() {
      platform.open -= 1;
    },
  };
  return platform;
}
const blind: PicturePlatform<Source> = {
  ...browser({ width: 1, height: 1 }),
  decode: () => Promise.reject(new Error('no')),
};

describe('16: a photograph is made smaller before it is kept', () => {
  test.each([
    [4032, 3024, 1600, 1200],
    [3024, 4032, 1200, 1600],
    [800, 600, 800, 600],
    [20_000, 1, 1600, 1],
  ])('%d by %d becomes %d by %d', async (width, height, w, h) => {
    const platform = browser({ width, height });
    const read = await readPicture(file(jpeg(width, height), 'a.jpg'), platform);
    expect(read).toMatchObject({ ok: true, value: { width: w, height: h, mime: 'image/jpeg' } });
    expect(Math.max(w, h)).toBeLessThanOrEqual(LONGEST_SIDE);
    expect(platform.open).toBe(0);
  });

  test('one that packs badly is packed harder, then made smaller, until it fits', async () => {
    const noisy = browser({ width: 4000, height: 4000 }, 1.2);
    const read = await readPicture(file(jpeg(4000, 4000), 'a.jpg'), noisy);
    expect(read).toMatchObject({ ok: true, value: { width: 1200 } });
    if (read.ok) expect(read.value.data.byteLength).toBeLessThanOrEqual(MAX_PICTURE_BYTES);
  });
});

describe('16: bad input gets one clear sentence', () => {
  const big = new File([], 'film.jpg');
  Object.defineProperty(big, 'size', { value: LARGEST_FILE + 1 });
  test.each<[string, File, PicturePlatform<Source>, string]>([
    ['no bytes', file(new Uint8Array(), 'a.jpg'), blind, 'is empty'],
    ['too large a file', big, blind, 'has 41 MB; Talkround reads pictures of at most 40 MB'],
    ['a text with a picture’s name', file(bytes('hello'), 'a.jpg'), blind, 'is not a picture'],
    ['a drawing', file(bytes('<svg xmlns='), 'a.svg'), blind, 'is not a picture'],
    ['a film', file(bytes([0, 0, 0, 24], 'ftypisom'), 'a.mp4'), blind, 'is not a picture'],
    ['a damaged one', file(jpeg(40, 30), 'a.jpg'), blind, 'damaged or cut off'],
    ['one with its end cut off', file(jpeg(40, 30).slice(0, 9), 'a.jpg'), blind, 'damaged or'],
    ['HEIC where it is not read', file(heic, 'IMG_1.HEIC'), blind, 'cannot read HEIC pictures'],
    ['too many pixels', file(png(40_000, 40_000), 'a.png'), blind, 'has 40000 by 40000 pixels'],
    [
      'too many pixels that its head does not tell',
      file(heic, 'a.heic'),
      browser({ width: 12_000, height: 9000 }),
      'has 12000 by 9000 pixels',
    ],
  ])('%s', async (_name, given, platform, sentence) => {
    const read = await readPicture(given, platform);
    expect(read.ok ? '' : read.error).toContain(sentence);
    expect(read.ok ? '' : read.error).not.toMatch(/Error|undefined|\n/);
  });

  test('a browser that makes no JPEG says so', async () => {
    const other = { ...browser({ width: 4, height: 4 }), encode: () => Promise.resolve(null) };
    const read = await readPicture(file(jpeg(4, 4), 'a.jpg'), other);
    expect(read).toMatchObject({ ok: false });
  });
});

test('16: of what a browser makes nothing is kept but what draws it', () => {
  const frame = [0xff, 0xc0, 0, 4, 1, 2];
  const pixels = [0xff, 0xda, 0, 2, 7, 0xff, 0xe1, 9, 0xff, 0xd9];
  const made = bytes(
    [0xff, 0xd8],
    [0xff, 0xe0, 0, 7],
    'JFIF\0',
    [0xff, 0xe1, 0, 8],
    'Exif\0\0',
    [0xff, 0xe2, 0, 5],
    'ICC',
    [0xff, 0xfe, 0, 4],
    'by',
    frame,
    pixels,
  );
  const bare = bareJpeg(made);
  expect(bare === null ? null : new Uint8Array(bare)).toEqual(
    bytes([0xff, 0xd8], [0xff, 0xe0, 0, 7], 'JFIF\0', frame, pixels),
  );
  for (const none of [[], [0xff, 0xd8], [0xff, 0xd8, 0, 0, 0, 0], [1, 2, 3, 4]])
    expect(bareJpeg(bytes(none))).toBeNull();
});

test('what a file is and its size are told by its bytes alone', () => {
  expect(pictureKind(heic)).toBe('HEIC');
  expect(pictureKind(bytes([0, 0, 0, 24], 'ftypavif'))).toBe('AVIF');
  expect(sizeIn(jpeg(4032, 3024), 'JPEG')).toEqual([4032, 3024]);
  expect(sizeIn(png(7, 9), 'PNG')).toEqual([7, 9]);
  expect(sizeIn(bytes([0xff, 0xd8, 0xff]), 'JPEG')).toBeNull();
});
