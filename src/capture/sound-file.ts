import { looksLikeWav, readWav, type SoundRead } from './signal/wav.ts';

/** Decodes a compressed sound file to samples, one array a channel. */
export type Decode = (
  bytes: Uint8Array<ArrayBuffer>,
) => Promise<{ readonly channels: readonly Float32Array[]; readonly rate: number }>;

/** Loudest sample under which a recording is silent: half a step of 16-bit sound is far below it, speech far above. */
const SILENT = 0.003;
/** Seconds under which nothing can have been said. */
const SHORTEST = 0.2;
/** Seconds over which a file is no walk. */
const LONGEST = 4 * 3600;

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
  const read = looksLikeWav(bytes) ? readWav(bytes) : await other(bytes, name, decode);
  if (!read.ok) return read;
  const seconds = read.samples.length / read.rate;
  if (seconds < SHORTEST)
    return bad(`"${name}" is only ${seconds.toFixed(2)} s long: nothing can be said in that.`);
  if (seconds > LONGEST)
    return bad(`"${name}" is ${(seconds / 3600).toFixed(1)} h long: cut out the walk.`);
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
    const { channels, rate } = await decode(new Uint8Array(bytes));
    const first = channels[0];
    if (first === undefined || first.length === 0 || !(rate > 0))
      return bad(`"${name}" has no sound in it.`);
    const samples = new Float32Array(first.length);
    for (const channel of channels)
      for (let i = 0; i < samples.length; i++)
        samples[i] = (samples[i] ?? 0) + (channel[i] ?? 0) / channels.length;
    return { ok: true, samples, rate, warning: null };
  } catch {
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
  const text = (at: number, length: number) =>
    String.fromCharCode(...bytes.subarray(at, at + length));
  if (MARKS.some(([at, mark]) => text(at, mark.length) === mark)) return true;
  // MPEG audio frame sync; EBML, the container of WebM.
  if (bytes[0] === 0xff && ((bytes[1] ?? 0) & 0xe0) === 0xe0) return true;
  if (bytes[0] === 0x1a && bytes[1] === 0x45 && bytes[2] === 0xdf && bytes[3] === 0xa3) return true;
  return ENDINGS.test(name);
}

/** The decoder of Node, loaded on first use. */
export const nodeDecode: Decode = async (bytes) => {
  // Known when it is built: the page's own bundle leaves the decoder out.
  if (!import.meta.env.SSR) throw new Error('This decoder is for Node.');
  const { default: decode } = await import('audio-decode');
  const sound = await decode(bytes);
  return { channels: sound.channelData, rate: sound.sampleRate };
};

/** The browser's decoder. It resamples to the rate asked for here. */
export const browserDecode: Decode = async (bytes) => {
  const rate = 16_000;
  const context = new OfflineAudioContext(1, 1, rate);
  const sound = await context.decodeAudioData(bytes.buffer);
  return {
    channels: Array.from({ length: sound.numberOfChannels }, (_, c) => sound.getChannelData(c)),
    rate: sound.sampleRate,
  };
};
