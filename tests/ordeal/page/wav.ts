/** A playable chunk of 16-bit PCM at 8 kHz: a tone whose pitch says which chunk it is. */
export function wavOf(chunk: number, samples: number): ArrayBuffer {
  const data = new ArrayBuffer(44 + samples * 2);
  const view = new DataView(data);
  const ascii = (at: number, text: string) => {
    for (let i = 0; i < text.length; i += 1) view.setUint8(at + i, text.charCodeAt(i));
  };
  ascii(0, 'RIFF');
  view.setUint32(4, 36 + samples * 2, true);
  ascii(8, 'WAVEfmt ');
  view.setUint32(16, 16, true);
  view.setUint16(20, 1, true);
  view.setUint16(22, 1, true);
  view.setUint32(24, 8000, true);
  view.setUint32(28, 16000, true);
  view.setUint16(32, 2, true);
  view.setUint16(34, 16, true);
  ascii(36, 'data');
  view.setUint32(40, samples * 2, true);
  for (let i = 0; i < samples; i += 1)
    view.setInt16(44 + i * 2, Math.sin((i * (chunk + 20)) / 100) * 8000, true);
  return data;
}
