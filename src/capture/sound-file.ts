import { createMixer } from './signal/resample.ts';
import { looksLikeWav, readWav, type SoundRead } from './signal/wav.ts';
import { KEPT_RATE, LONGEST, soundTooLarge, soundTooLong, TooLong } from './sound-limits.ts';

/**
 * Decodes a compressed sound file to samples, one array a channel. Rejects with
 * `TooLong` when there are more seconds than `most`, before they fill the memory.
 */
export type Decode = (
  bytes: Uint8Array<ArrayBuffer>,
  most: number,
) => Promise<{ readonly channels: readonly Float32Array[]; readonly rate: number }>;

/** Loudest sample under which a recording is silent: half a step of 16-bit sound is far below it, speech far above. */
const SILENT = 0.003;
/** Seconds under which nothing can have been said. */
const SHORTEST = 0.2;

/**
 * Reads a sound file: WAV ourselves, everything else with the platform's
 * decoder. Bad files give one sentence: what is wrong and what to do.
 *
 * @param name as the user knows it, for the sentence.
 */
export async function soundFile(
  bytes: Uint8Array,
  name: string,
  decode: Decode,
): Promise<SoundRead> {
  if (bytes.length === 0) return bad(`"${name}" is empty: record or copy it again.`);
  const wav = looksLikeWav(bytes);
  const large = soundTooLarge(wav ? 'it.wav' : 'it', bytes.length);
  if (large !== null) return bad(large.replace(/^it(\.wav)?/, `"${name}"`));
  const read = wav
    ? readWav(bytes, {
        seconds: LONGEST,
        rate: KEPT_RATE,
        tooLong: (seconds) => soundTooLong(name, seconds),
      })
    : await other(bytes, name, decode);
  if (!read.ok) return read;
  const seconds = read.samples.length / read.rate;
  if (seconds < SHORTEST)
    return bad(`"${name}" is only ${seconds.toFixed(2)} s long: nothing can be said in that.`);
  if (seconds > LONGEST) return bad(soundTooLong(name, seconds));
  let loudest = 0;
  for (const s of read.samples) loudest = Math.max(loudest, Math.abs(s));
  if (loudest < SILENT)
    return bad(
      `This file is silent: the loudest sample of "${name}" is ${percent(loudest)} of full scale. Check the microphone and record again.`,
    );
  return read;
}

async function other(bytes: Uint8Array, name: string, decode: Decode): Promise<SoundRead> {
  try {
    // Copied only where it does not lie in a buffer of its own: decoders take whole buffers.
    const { channels, rate } = await decode(
      bytes.buffer instanceof ArrayBuffer && bytes.byteLength === bytes.buffer.byteLength
        ? new Uint8Array(bytes.buffer)
        : new Uint8Array(bytes),
      LONGEST,
    );
    const first = channels[0];
    if (first === undefined || first.length === 0 || !(rate > 0))
      return bad(`"${name}" has no sound in it.`);
    if (channels.length === 1) return { ok: true, samples: first, rate, warning: null };
    const mixer = createMixer(rate, rate);
    mixer.push(channels);
    return { ok: true, samples: mixer.end(), rate, warning: null };
  } catch (error) {
    if (error instanceof TooLong) return bad(soundTooLong(name, error.seconds));
    return bad(
      `"${name}" is not a sound file that can be read here. Save it as WAV, MP3, M4A, OGG or FLAC.`,
    );
  }
}

function percent(part: number): string {
  return part === 0 ? '0 %' : `${(part * 100).toPrecision(2)} %`;
}

function bad(error: string): SoundRead {
  return { ok: false, error };
}

/** The first bytes of the sound files that are known, for telling them from text. */
const MARKS: readonly (readonly [number, string])[] = [
  [0, 'RIFF'],
  [0, 'OggS'],
  [0, 'fLaC'],
  [0, 'ID3'],
  [4, 'ftyp'],
  [0, 'FORM'],
  [0, 'caff'],
  [0, '#!AMR'],
];
const ENDINGS = /\.(wav|mp3|m4a|mp4|aac|ogg|oga|opus|flac|aiff?|caf|webm|amr|wma)$/i;

/** Whether the file is meant as sound, by its first bytes or its name. */
export function isSoundFile(bytes: Uint8Array, name: string): boolean {
  if (MARKS.some(([at, mark]) => hasMark(bytes, mark, at))) return true;
  if (isMpeg(bytes)) return true;
  // EBML, the container of WebM.
  if (bytes[0] === 0x1a && bytes[1] === 0x45 && bytes[2] === 0xdf && bytes[3] === 0xa3) return true;
  return ENDINGS.test(name);
}

function hasMark(bytes: Uint8Array, mark: string, at = 0): boolean {
  return String.fromCharCode(...bytes.subarray(at, at + mark.length)) === mark;
}

/** Frame sync of MPEG audio. */
function isMpeg(bytes: Uint8Array): boolean {
  return bytes[0] === 0xff && ((bytes[1] ?? 0) & 0xe0) === 0xe0;
}

/** Bytes that are decoded at a time in Node: a file that says nothing for hours in few bytes is noticed early. */
const BYTES = 1 << 16;

/** Name of the decoder of what can be decoded in pieces; null for the others, which have their index at the end. */
function inPieces(bytes: Uint8Array): 'flac' | 'opus' | 'oga' | 'mp3' | null {
  if (hasMark(bytes, 'fLaC')) return 'flac';
  // RFC 7845: the first packet of Ogg Opus begins so.
  if (hasMark(bytes, 'OggS')) return hasMark(bytes, 'OpusHead', 28) ? 'opus' : 'oga';
  return hasMark(bytes, 'ID3') || isMpeg(bytes) ? 'mp3' : null;
}

/** The decoder of Node, loaded on first use. */
export const nodeDecode: Decode = async (bytes, most) => {
  // Known when it is built: the page's own bundle leaves the decoder out.
  if (!import.meta.env.SSR) throw new Error('This decoder is for Node.');
  const { default: decode, decodeChunked } = await import('audio-decode');
  const type = inPieces(bytes);
  if (type === null) {
    const sound = await decode(bytes);
    return { channels: sound.channelData, rate: sound.sampleRate };
  }
  async function* pieces() {
    for (let at = 0; at < bytes.length; at += BYTES) yield bytes.subarray(at, at + BYTES);
  }
  let mixer: ReturnType<typeof createMixer> | null = null;
  let rate = 0;
  for await (const sound of decodeChunked(pieces(), type)) {
    rate = sound.sampleRate;
    mixer ??= createMixer(rate, Math.min(rate, KEPT_RATE));
    mixer.push(sound.channelData);
    if (mixer.taken / rate > most) throw new TooLong(mixer.taken / rate);
  }
  if (mixer === null) return { channels: [], rate: KEPT_RATE };
  return { channels: [mixer.end()], rate: Math.min(rate, KEPT_RATE) };
};

/** The browser's decoder. It resamples to the rate asked for here. */
export const browserDecode: Decode = async (bytes, most) => {
  const seconds = await secondsOf(new Blob([bytes]));
  if (seconds > most) throw new TooLong(seconds);
  const context = new OfflineAudioContext(1, 1, BROWSER_RATE);
  const sound = await context.decodeAudioData(bytes.buffer);
  return {
    channels: Array.from({ length: sound.numberOfChannels }, (_, c) => sound.getChannelData(c)),
    rate: sound.sampleRate,
  };
};

/** Samples a second that the browser's decoder makes; its own filter is not trusted with 8,000. */
const BROWSER_RATE = 16_000;
/** Milliseconds until a file has to have said how long it is. */
const SAYS_WITHIN = 10_000;

/**
 * How long a sound file is, in seconds, without decoding it: the decoder makes
 * all of it at once. Recordings of a browser do not say it in their head; asked
 * for a place far behind, the platform finds their end. Rejects when it does not.
 */
async function secondsOf(file: Blob): Promise<number> {
  const url = URL.createObjectURL(file);
  const player = new Audio();
  try {
    return await new Promise<number>((resolve, reject) => {
      const timer = setTimeout(() => reject(new Error('It does not say its length.')), SAYS_WITHIN);
      const look = () => {
        if (!Number.isFinite(player.duration)) return;
        clearTimeout(timer);
        resolve(player.duration);
      };
      player.addEventListener('durationchange', look);
      player.addEventListener('error', () => reject(new Error('It is no sound.')));
      player.addEventListener('loadedmetadata', () => {
        if (!Number.isFinite(player.duration)) player.currentTime = Number.MAX_SAFE_INTEGER;
      });
      player.preload = 'metadata';
      player.src = url;
    });
  } finally {
    player.removeAttribute('src');
    player.load();
    URL.revokeObjectURL(url);
  }
}
