/** Largest transcript read, in bytes. A day of talk is under 2 MB; more is a mistake or an attack. */
export const LARGEST_TRANSCRIPT = 64 * 1024 * 1024;

/** What the first bytes of common files that are not text look like, and what to do with them. */
const NOT_TEXT: readonly { readonly bytes: string; readonly at: number; readonly what: string }[] =
  [
    { bytes: 'RIFF', at: 0, what: 'a sound file; open it as sound' },
    { bytes: 'OggS', at: 0, what: 'a sound file; open it as sound' },
    { bytes: 'fLaC', at: 0, what: 'a sound file; open it as sound' },
    { bytes: 'ID3', at: 0, what: 'a sound file; open it as sound' },
    { bytes: 'ftyp', at: 4, what: 'a sound or video file; open it as sound' },
    { bytes: '\x1aE\xdf\xa3', at: 0, what: 'a sound or video file; open it as sound' },
    {
      bytes: 'PK\x03\x04',
      at: 0,
      what: 'a zip archive or an office document; save it as plain text',
    },
    { bytes: '%PDF', at: 0, what: 'a PDF; save it as plain text' },
    { bytes: '\x89PNG', at: 0, what: 'a picture' },
    { bytes: '\xff\xd8\xff', at: 0, what: 'a picture' },
    { bytes: 'GIF8', at: 0, what: 'a picture' },
    { bytes: '\x1f\x8b', at: 0, what: 'a compressed file; unpack it first' },
  ];

/** Share of control characters above which a file is not text. Text has none but tabs and line ends. */
const MOST_CONTROL = 0.02;

export type Decoded =
  { ok: true; text: string; note: string | null } | { ok: false; error: string };

/**
 * Bytes to text: UTF-8, UTF-16 either way round, with or without a byte order
 * mark, otherwise Windows-1252 (of which Latin-1 is the printable part).
 */
export function decodeText(input: string | Uint8Array, file: string): Decoded {
  if (input.length === 0) return { ok: false, error: `${file} is empty.` };
  if (input.length > LARGEST_TRANSCRIPT) {
    return {
      ok: false,
      error: `${file} is ${Math.round(input.length / 1048576)} MB; a transcript may have ${LARGEST_TRANSCRIPT / 1048576} MB at most. Cut it into parts.`,
    };
  }
  const decoded = typeof input === 'string' ? { text: input, note: null } : textOf(input);
  if (typeof input !== 'string') {
    const known = NOT_TEXT.find(({ bytes, at }) =>
      [...bytes].every((c, i) => input[at + i] === c.charCodeAt(0)),
    );
    if (known !== undefined) return { ok: false, error: `${file} is ${known.what}.` };
  }
  const text = decoded.text.replace(/^\uFEFF/, '');
  if (controlShare(text) > MOST_CONTROL) {
    return { ok: false, error: `${file} is not text. Give a WebVTT, SubRip or plain text file.` };
  }
  return { ok: true, text, note: decoded.note };
}

function textOf(bytes: Uint8Array): { text: string; note: string | null } {
  const decode = (name: string, fatal = false) => new TextDecoder(name, { fatal }).decode(bytes);
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return { text: decode('utf-16le'), note: null };
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return { text: decode('utf-16be'), note: null };
  // Text in western script has a zero in every second byte of UTF-16 and none in any other coding.
  const sample = bytes.subarray(0, 2000);
  const zeros = [0, 0];
  sample.forEach((byte, i) => {
    if (byte === 0) zeros[i % 2] = (zeros[i % 2] ?? 0) + 1;
  });
  const half = sample.length / 2;
  if ((zeros[1] ?? 0) > half * 0.7 && zeros[0] === 0) {
    return { text: decode('utf-16le'), note: null };
  }
  if ((zeros[0] ?? 0) > half * 0.7 && zeros[1] === 0) {
    return { text: decode('utf-16be'), note: null };
  }
  try {
    return { text: decode('utf-8', true), note: null };
  } catch {
    return {
      text: decode('windows-1252'),
      note: 'is not UTF-8 and was read as Windows-1252 (Latin-1); look at accented letters',
    };
  }
}

function controlShare(text: string): number {
  let control = 0;
  const looked = Math.min(text.length, 20_000);
  for (let i = 0; i < looked; i += 1) {
    const code = text.charCodeAt(i);
    if ((code < 32 && code !== 9 && code !== 10 && code !== 13 && code !== 12) || code === 0xfffd) {
      control += 1;
    }
  }
  return looked === 0 ? 0 : control / looked;
}
