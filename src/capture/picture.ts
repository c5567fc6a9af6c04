import { LONGEST_SIDE, MAX_PICTURE_BYTES, PICTURE_MIME } from '#shared/picture';

/**
 * A photograph as it came from a camera or a file, made anew from its pixels:
 * smaller, upright, and without the place, the device and the time that a camera
 * writes into it.
 */
export interface MadePicture {
  readonly mime: typeof PICTURE_MIME;
  readonly width: number;
  readonly height: number;
  readonly data: ArrayBuffer;
}

export type ReadPicture =
  | { readonly ok: true; readonly value: MadePicture }
  | { readonly ok: false; readonly error: string };

/** What is used of the platform; passed in, so that it can be played. */
export interface PicturePlatform<Source extends { width: number; height: number }> {
  /** Upright. Rejects when the browser cannot read it. */
  decode(file: Blob): Promise<Source>;
  /** Drawn at that size; null when the browser makes no JPEG of it. */
  encode(from: Source, width: number, height: number, quality: number): Promise<Blob | null>;
  close(source: Source): void;
}

const MB = 1024 * 1024;

/** Bytes of a file that is looked at. A camera's largest JPEG has about 30 MB; a film has hundreds. */
export const LARGEST_FILE = 40 * MB;

/**
 * Pixels that are unpacked: 256 MB while it is made smaller. A phone that has less
 * room ends the page, and the walk with it; 108-megapixel modes are refused for it.
 */
export const MOST_PIXELS = 64_000_000;

/** The size stands in the first bytes; a camera's own preview may come before it. */
const HEAD_BYTES = MB;

/** From the best to the smallest, until one is small enough. */
const TRIES: readonly (readonly [side: number, quality: number])[] = [
  [LONGEST_SIDE, 0.82],
  [LONGEST_SIDE, 0.65],
  [LONGEST_SIDE * 0.75, 0.6],
  [LONGEST_SIDE * 0.5, 0.5],
];

/** Reads a picture to be kept. Never rejects: what is wrong is one sentence. */
export async function readPicture<Source extends { width: number; height: number }>(
  file: File,
  platform: PicturePlatform<Source>,
): Promise<ReadPicture> {
  const name = `“${file.name === '' ? 'picture' : file.name}”`;
  const no = (error: string): ReadPicture => ({ ok: false, error });
  if (file.size === 0) return no(`${name} is empty. Take the picture again.`);
  if (file.size > LARGEST_FILE)
    return no(
      `${name} has ${Math.ceil(file.size / MB)} MB; Talkround reads pictures of at most ${LARGEST_FILE / MB} MB. Take it again at a smaller size.`,
    );
  let source: Source | null = null;
  try {
    const head = new Uint8Array(await file.slice(0, HEAD_BYTES).arrayBuffer());
    const kind = pictureKind(head);
    if (kind === null)
      return no(`${name} is not a picture. Choose a photograph: JPEG, PNG or WebP.`);
    const size = sizeIn(head, kind);
    if (size !== null && size[0] * size[1] > MOST_PIXELS) return no(tooManyPixels(name, size));
    try {
      source = await platform.decode(file);
    } catch {
      return no(
        WIDELY_READ.has(kind)
          ? `${name} cannot be read as a picture: it is damaged or cut off. Take it again.`
          : `This browser cannot read ${kind} pictures such as ${name}. Set the camera to JPEG, its most compatible format, or save it as JPEG.`,
      );
    }
    if (source.width * source.height > MOST_PIXELS)
      return no(tooManyPixels(name, [source.width, source.height]));
    const made = await smaller(source, platform);
    return (
      made ?? no(`This browser cannot make a smaller picture of ${name}. Try another browser.`)
    );
  } catch {
    return no(`${name} could not be read. Choose it again.`);
  } finally {
    if (source !== null) platform.close(source);
  }
}

async function smaller<Source extends { width: number; height: number }>(
  source: Source,
  platform: PicturePlatform<Source>,
): Promise<ReadPicture | null> {
  for (const [side, quality] of TRIES) {
    const scale = Math.min(1, side / Math.max(source.width, source.height));
    const width = Math.max(1, Math.round(source.width * scale));
    const height = Math.max(1, Math.round(source.height * scale));
    const blob = await platform.encode(source, width, height, quality);
    if (blob?.type !== PICTURE_MIME) return null;
    if (blob.size > MAX_PICTURE_BYTES) continue;
    const data = bareJpeg(new Uint8Array(await blob.arrayBuffer()));
    if (data === null) return null;
    return { ok: true, value: { mime: PICTURE_MIME, width, height, data } };
  }
  return null;
}

function tooManyPixels(name: string, [width, height]: readonly [number, number]): string {
  return `${name} has ${width} by ${height} pixels; Talkround reads at most ${MOST_PIXELS / 1e6} million. Take it again at a smaller size.`;
}

type Kind = 'JPEG' | 'PNG' | 'WebP' | 'GIF' | 'HEIC' | 'AVIF' | 'TIFF' | 'BMP';

/** Read by every browser: one of these that is not read is damaged. */
const WIDELY_READ: ReadonlySet<Kind> = new Set(['JPEG', 'PNG', 'WebP', 'GIF', 'BMP']);

/**
 * What a file is by its first bytes; its name and type are whatever somebody
 * called it. Drawings (SVG) are none: they may ask for other files.
 */
export function pictureKind(head: Uint8Array): Kind | null {
  const text = (from: number, to: number) => String.fromCharCode(...head.subarray(from, to));
  if (text(0, 3) === '\xff\xd8\xff') return 'JPEG';
  if (text(0, 8) === '\x89PNG\r\n\x1a\n') return 'PNG';
  if (text(0, 4) === 'GIF8') return 'GIF';
  if (text(0, 4) === 'RIFF' && text(8, 12) === 'WEBP') return 'WebP';
  if (text(0, 4) === 'II*\0' || text(0, 4) === 'MM\0*') return 'TIFF';
  if (text(0, 2) === 'BM' && head.length > 26) return 'BMP';
  if (text(4, 8) !== 'ftyp') return null;
  const brands = text(8, 40);
  if (/avif|avis/.test(brands)) return 'AVIF';
  return /hei[cxms]|hev[cxms]|mif1|msf1/.test(brands) ? 'HEIC' : null;
}

/** Width and height before it is unpacked; null where the first bytes do not say. */
export function sizeIn(head: Uint8Array, kind: Kind): readonly [number, number] | null {
  const view = new DataView(head.buffer, head.byteOffset, head.byteLength);
  try {
    switch (kind) {
      case 'PNG':
        return [view.getUint32(16), view.getUint32(20)];
      case 'GIF':
        return [view.getUint16(6, true), view.getUint16(8, true)];
      case 'BMP':
        return [view.getUint32(18, true), Math.abs(view.getInt32(22, true))];
      case 'JPEG':
        return jpegSize(view);
      default:
        return null;
    }
  } catch {
    // It ends before it says so; whether it can be read the browser decides.
    return null;
  }
}

/** The frame header (ITU T.81, B.2.2) after as many other segments as there are. */
function jpegSize(view: DataView): readonly [number, number] | null {
  for (let at = 2; view.getUint8(at) === 0xff;) {
    const marker = view.getUint8(at + 1);
    const frame = marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker);
    if (frame) return [view.getUint16(at + 7), view.getUint16(at + 5)];
    at += marker === 0xff ? 1 : 2 + view.getUint16(at + 2);
  }
  return null;
}

/** What a JPEG needs to be drawn: its own head (APP0) and the form of its colours (APP14). */
const NEEDED: ReadonlySet<number> = new Set([0xe0, 0xee]);

/**
 * The same picture without any segment that tells something beside it: whatever a
 * browser writes into what it makes, nothing of a person, a place or a device is
 * kept. null: it is no JPEG.
 */
export function bareJpeg(bytes: Uint8Array): ArrayBuffer | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const parts: Uint8Array[] = [bytes.subarray(0, 2)];
  try {
    if (view.getUint16(0) !== 0xffd8) return null;
    for (let at = 2; ;) {
      const marker = view.getUint16(at) - 0xff00;
      if (marker < 0) return null;
      // From the scan on it is pixels.
      if (marker === 0xda) {
        parts.push(bytes.subarray(at));
        break;
      }
      const end = at + 2 + view.getUint16(at + 2);
      const tells = (marker >= 0xe0 && marker <= 0xef) || marker === 0xfe;
      if (!tells || NEEDED.has(marker)) parts.push(bytes.subarray(at, end));
      at = end;
    }
  } catch {
    return null;
  }
  const bare = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    bare.set(part, at);
    at += part.length;
  }
  return bare.buffer;
}

/** The page's own decoder and canvas. */
export function picturePlatform(): PicturePlatform<ImageBitmap> {
  return {
    decode: (file) => createImageBitmap(file, { imageOrientation: 'from-image' }),
    encode(from, width, height, quality) {
      const canvas = document.createElement('canvas');
      canvas.width = width;
      canvas.height = height;
      const pen = canvas.getContext('2d');
      if (pen === null) return Promise.resolve(null);
      // JPEG has no transparency: what is clear is paper.
      pen.fillStyle = '#fff';
      pen.fillRect(0, 0, width, height);
      pen.imageSmoothingQuality = 'high';
      pen.drawImage(from, 0, 0, width, height);
      return new Promise((done) => canvas.toBlob(done, PICTURE_MIME, quality));
    },
    close: (source) => source.close(),
  };
}
