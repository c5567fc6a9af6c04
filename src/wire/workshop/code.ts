/** Bytes that a QR code of version 40 with the lowest correction holds (ISO/IEC 18004, table 7). */
const LARGEST_CODE = 2953;
/** A code that a phone is shown may unpack to at most this: 2,953 bytes of it cannot honestly be more. */
const LARGEST_UNPACKED = 200_000;

async function through(
  bytes: Uint8Array<ArrayBuffer>,
  stream: CompressionStream | DecompressionStream,
): Promise<Uint8Array> {
  const parts: Uint8Array[] = [];
  let size = 0;
  const reader = new Blob([bytes]).stream().pipeThrough(stream).getReader();
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    size += value.length;
    if (size > LARGEST_UNPACKED) throw new Error('It unpacks to more than a code can hold.');
    parts.push(value);
  }
  const out = new Uint8Array(size);
  let at = 0;
  for (const part of parts) {
    out.set(part, at);
    at += part.length;
  }
  return out;
}

/** A text as what a QR code holds behind an address; null when address and text are too large for one. */
export async function packed(text: string, address: string): Promise<string | null> {
  if (text.length > LARGEST_UNPACKED) return null;
  const bytes = await through(
    Uint8Array.from(new TextEncoder().encode(text)),
    new CompressionStream('deflate-raw'),
  );
  let binary = '';
  for (const byte of bytes) binary += String.fromCharCode(byte);
  const code = btoa(binary).replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '');
  return address.length + code.length > LARGEST_CODE ? null : `${address}${code}`;
}

/** The text again; null when it is no such code. */
export async function unpacked(code: string): Promise<string | null> {
  try {
    const binary = atob(code.replaceAll('-', '+').replaceAll('_', '/'));
    const bytes = Uint8Array.from(binary, (c) => c.charCodeAt(0));
    return new TextDecoder().decode(await through(bytes, new DecompressionStream('deflate-raw')));
  } catch {
    return null;
  }
}
