import { createMixer } from './resample.ts';

/** Samples in [-1, 1], mono. */
export interface Sound {
  readonly samples: Float32Array;
  /** Samples a second. */
  readonly rate: number;
}

export type SoundRead =
  | ({ readonly ok: true; readonly warning: string | null } & Sound)
  | { readonly ok: false; readonly error: string };

/** What is read of a file at most. Left out: all of it, as it is. */
export interface WavLimits {
  readonly seconds: number;
  /** Said when there are more. */
  tooLong(seconds: number): string;
  /** Samples a second that are kept. */
  readonly rate: number;
}

/** Frames that are read at a time: what is held beside the result stays small. */
const FRAMES = 1 << 16;

/** WAVE format tags (Microsoft, Multimedia Programming Interface 1.0; from memory). */
const PCM = 1;
const FLOAT = 3;
const EXTENSIBLE = 0xfffe;

/** Rates outside these are taken for a damaged header, not for sound. */
const LOWEST_RATE = 4_000;
const HIGHEST_RATE = 384_000;

export function looksLikeWav(bytes: Uint8Array): boolean {
  return bytes.length >= 12 && tag(bytes, 0) === 'RIFF' && tag(bytes, 8) === 'WAVE';
}

function tag(bytes: Uint8Array, at: number): string {
  return String.fromCharCode(...bytes.subarray(at, at + 4));
}

/**
 * Reads a WAV file of any rate, any number of channels (mixed to one), 8, 16,
 * 24 or 32 bits, or 32- or 64-bit float. A file cut off in its samples is read
 * as far as it goes, with a warning.
 */
export function readWav(bytes: Uint8Array, limits?: WavLimits): SoundRead {
  if (!looksLikeWav(bytes)) return fail('This is not a WAV file.');
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let form: { code: number; channels: number; rate: number; bits: number } | null = null;
  let at = 12;
  while (at + 8 <= bytes.length) {
    const name = tag(bytes, at);
    const size = view.getUint32(at + 4, true);
    const body = at + 8;
    if (name === 'fmt ') {
      if (size < 16 || body + 16 > bytes.length)
        return fail('This WAV file is cut off in its header: record or copy it again.');
      let code = view.getUint16(body, true);
      if (code === EXTENSIBLE && size >= 26 && body + 26 <= bytes.length)
        code = view.getUint16(body + 24, true);
      form = {
        code,
        channels: view.getUint16(body + 2, true),
        rate: view.getUint32(body + 4, true),
        bits: view.getUint16(body + 14, true),
      };
    } else if (name === 'data') {
      if (form === null) return fail('This WAV file does not say how its samples are stored.');
      // A recorder that was cut short leaves 0 or the largest number here: take what there is.
      const claimed = size === 0 || size === 0xffff_ffff ? bytes.length - body : size;
      const there = Math.min(claimed, bytes.length - body);
      const missing = size === 0xffff_ffff ? 0 : claimed - there;
      return samplesOf(view, body, there, form, missing, limits);
    }
    at = body + size + (size % 2);
  }
  return fail('This WAV file is cut off before its samples: record or copy it again.');
}

function samplesOf(
  view: DataView,
  from: number,
  length: number,
  form: { code: number; channels: number; rate: number; bits: number },
  missing: number,
  limits: WavLimits | undefined,
): SoundRead {
  const { code, channels, rate, bits } = form;
  if (channels < 1 || channels > 64 || rate < LOWEST_RATE || rate > HIGHEST_RATE)
    return fail(
      `This WAV file has a damaged header: ${String(channels)} channels at ${String(rate)} samples a second.`,
    );
  const read = readerOf(view, code, bits);
  if (read === null)
    return fail(
      `This WAV file stores its samples in a way that is not understood (format ${String(code)}, ${String(bits)} bits). Save it as 16-bit PCM.`,
    );
  const width = bits / 8;
  const step = width * channels;
  const frames = Math.floor(length / step);
  if (frames === 0) return fail('This WAV file has no samples in it.');
  // The header alone tells how long it is: nothing is made of what is too long.
  if (limits !== undefined && frames / rate > limits.seconds)
    return fail(limits.tooLong(frames / rate));
  const kept = Math.min(rate, limits?.rate ?? rate);
  const mixer = createMixer(rate, kept, frames);
  for (let at = 0; at < frames; at += FRAMES) {
    const piece = new Float32Array(Math.min(FRAMES, frames - at));
    for (let i = 0; i < piece.length; i++) {
      let sum = 0;
      for (let c = 0; c < channels; c++) sum += read(from + (at + i) * step + c * width);
      const value = sum / channels;
      piece[i] = Number.isFinite(value) ? value : 0;
    }
    mixer.push([piece]);
  }
  const warning =
    missing > 0
      ? `This WAV file is cut off: ${(frames / rate).toFixed(1)} s of ${((frames + missing / step) / rate).toFixed(1)} s are there.`
      : null;
  return { ok: true, samples: mixer.end(), rate: kept, warning };
}

function readerOf(view: DataView, code: number, bits: number): ((at: number) => number) | null {
  if (code === PCM && bits === 8) return (at) => (view.getUint8(at) - 128) / 128;
  if (code === PCM && bits === 16) return (at) => view.getInt16(at, true) / 32_768;
  if (code === PCM && bits === 24)
    return (at) => ((view.getInt8(at + 2) << 16) | view.getUint16(at, true)) / 8_388_608;
  if (code === PCM && bits === 32) return (at) => view.getInt32(at, true) / 2_147_483_648;
  if (code === FLOAT && bits === 32) return (at) => view.getFloat32(at, true);
  if (code === FLOAT && bits === 64) return (at) => view.getFloat64(at, true);
  return null;
}

function fail(error: string): SoundRead {
  return { ok: false, error };
}

/** A mono 16-bit WAV file of the samples. */
export function writeWav(samples: Float32Array, rate: number): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(44 + samples.length * 2);
  const view = new DataView(bytes.buffer);
  const put = (at: number, text: string) => {
    for (let i = 0; i < text.length; i++) view.setUint8(at + i, text.charCodeAt(i));
  };
  put(0, 'RIFF');
  view.setUint32(4, 36 + samples.length * 2, true);
  put(8, 'WAVEfmt ');
  view.setUint32(16, 16, true);
  view.setUint16(20, PCM, true);
  view.setUint16(22, 1, true);
  view.setUint32(24, rate, true);
  view.setUint32(28, rate * 2, true);
  view.setUint16(32, 2, true);
  view.setUint16(34, 16, true);
  put(36, 'data');
  view.setUint32(40, samples.length * 2, true);
  samples.forEach((s, i) => {
    view.setInt16(44 + i * 2, Math.round(Math.max(-1, Math.min(1, s)) * 32_767), true);
  });
  return bytes;
}
