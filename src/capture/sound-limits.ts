import { DECODER_RATE } from './embedded/decoder.ts';

/**
 * How much sound of one file is read. Too little refuses an honest recording, in
 * words; too much takes the memory of a phone, and with it a walk in progress.
 */

/** Seconds. A walk is half an hour; whoever recorded the drive to the field too can cut it out. */
export const LONGEST = 2 * 3600;

/**
 * MB of a WAV file, which is in memory while it is read: an hour at 16,000
 * samples a second in 16 bits, or twenty minutes at 48,000.
 */
export const LARGEST_WAV_MB = 128;

/** MB of any other: an hour of MP3 at 128 kbit/s. */
export const LARGEST_PACKED_MB = 64;

/** Samples a second that are kept of a file, mono: no more than the recogniser takes. Two hours are 230 MB. */
export const KEPT_RATE = DECODER_RATE;

/** The sentence for a sound file that is too large to be read; null when it is not. */
export function soundTooLarge(name: string, bytes: number): string | null {
  const wav = /\.wav$/i.test(name);
  const most = wav ? LARGEST_WAV_MB : LARGEST_PACKED_MB;
  if (bytes <= most * 1024 * 1024) return null;
  const advice = wav
    ? 'Save it as mono with 16,000 samples a second, or cut out the walk'
    : 'Cut out the walk';
  return `${name} has ${Math.ceil(bytes / 1024 / 1024)} MB of sound; Talkround reads at most ${most} MB of ${wav ? 'WAV' : 'such a file'}. ${advice}.`;
}

/** The sentence for one that lasts too long. */
export function soundTooLong(name: string, seconds: number): string {
  return `"${name}" is ${(seconds / 3600).toFixed(1)} h long; Talkround reads at most ${LONGEST / 3600} h. Cut out the walk.`;
}

/** A decoder found more sound than is read. */
export class TooLong extends Error {
  readonly seconds: number;
  constructor(seconds: number) {
    super('There is more sound than is read.');
    this.seconds = seconds;
  }
}
