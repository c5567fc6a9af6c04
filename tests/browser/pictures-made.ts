import type { Page } from 'playwright-core';

/** A photograph as a camera writes it, drawn by the browser: with the place, the camera and a rotation in its head. */
export async function photograph(page: Page, width: number, height: number): Promise<Buffer> {
  const plain = await page.evaluate(
    async ([w, h]) => {
      const canvas = new OffscreenCanvas(w, h);
      const pen = canvas.getContext('2d');
      if (pen === null) throw new Error('no canvas');
      const sky = pen.createLinearGradient(0, 0, w, h);
      sky.addColorStop(0, '#335577');
      sky.addColorStop(1, '#ddccbb');
      pen.fillStyle = sky;
      pen.fillRect(0, 0, w, h);
      pen.strokeStyle = '#220000';
      pen.lineWidth = h / 60;
      pen.strokeRect(w * 0.2, h * 0.2, w * 0.5, h * 0.5);
      const blob = await canvas.convertToBlob({ type: 'image/jpeg', quality: 0.9 });
      return [...new Uint8Array(await blob.arrayBuffer())];
    },
    [width, height] as const,
  );
  return Buffer.concat([Buffer.from([0xff, 0xd8]), exif(), Buffer.from(plain.slice(2))]);
}

export const CAMERA = 'Makebelieve 9';

/** Exif 2.3 in an APP1 segment: make, orientation 6 (turned to the right), and a GPS latitude. */
function exif(): Buffer {
  const tiff = Buffer.alloc(140);
  tiff.write('MM\0*', 0, 'latin1');
  tiff.writeUInt32BE(8, 4);
  tiff.writeUInt16BE(3, 8);
  const entry = (at: number, tag: number, type: number, count: number, value: number) => {
    tiff.writeUInt16BE(tag, at);
    tiff.writeUInt16BE(type, at + 2);
    tiff.writeUInt32BE(count, at + 4);
    if (type === 3) tiff.writeUInt16BE(value, at + 8);
    else tiff.writeUInt32BE(value, at + 8);
  };
  entry(10, 0x010f, 2, CAMERA.length + 1, 60);
  entry(22, 0x0112, 3, 1, 6);
  entry(34, 0x8825, 4, 1, 80);
  tiff.write(`${CAMERA}\0`, 60, 'latin1');
  tiff.writeUInt16BE(1, 80);
  entry(82, 0x0002, 5, 3, 104);
  [47, 1, 30, 1, 12, 1].forEach((n, i) => tiff.writeUInt32BE(n, 104 + 4 * i));
  const head = Buffer.from([0xff, 0xe1, 0, 0]);
  head.writeUInt16BE(2 + 6 + tiff.length, 2);
  return Buffer.concat([head, Buffer.from('Exif\0\0', 'latin1'), tiff]);
}
