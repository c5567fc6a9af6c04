/** Samples a second: silence needs no more. */
const RATE = 8000;

/** A WAV file of so many seconds of silence: 8-bit, one channel. */
export function writeSilence(seconds: number): Uint8Array<ArrayBuffer> {
  const count = Math.round(seconds * RATE);
  const bytes = new Uint8Array(44 + count).fill(128, 44);
  const view = new DataView(bytes.buffer);
  const text = (at: number, words: string) =>
    [...words].forEach((c, i) => view.setUint8(at + i, c.charCodeAt(0)));
  text(0, 'RIFF');
  view.setUint32(4, 36 + count, true);
  text(8, 'WAVEfmt ');
  view.setUint32(16, 16, true);
  view.setUint16(20, 1, true);
  view.setUint16(22, 1, true);
  view.setUint32(24, RATE, true);
  view.setUint32(28, RATE, true);
  view.setUint16(32, 1, true);
  view.setUint16(34, 8, true);
  text(36, 'data');
  view.setUint32(40, count, true);
  return bytes;
}
