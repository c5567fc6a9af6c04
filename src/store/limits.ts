/**
 * What a file that somebody hands us may be at most. A file is hostile until it
 * is read: too small a limit refuses an honest backup, in words; too large a
 * one lets a small file fill the memory of a phone, and then the record of a
 * walk in progress is at stake.
 */

const MB = 1024 * 1024;

/** Entries in a zip. 200,000 two-second chunks are 111 hours of sound. */
export const MAX_ENTRIES = 200_000;

/** Entries without a byte. Ours have none; a zip of nothing else costs time and room for nothing. */
export const MAX_EMPTY = 100;

/** One entry of JSON, unpacked. Talkround begins a new one at a quarter of it. */
export const MAX_JSON_BYTES = 32 * MB;

/** All JSON of one file together: it is held in memory at once. About 200,000 events. */
export const MAX_JSON_TOTAL = 256 * MB;

/** One chunk of sound: two minutes of 16-bit PCM at 48 kHz, where two seconds are usual. */
export const MAX_SOUND_BYTES = 12 * MB;

/** One event: an utterance is cut at far less by every recogniser. */
export const MAX_EVENT_BYTES = 1 * MB;

/** Events in one file: about 400 walks of an hour. */
export const MAX_EVENTS = 600_000;

/** Lines of refusal that are put in words; the rest is counted. */
export const MAX_REFUSALS_SHOWN = 100;

/** How deep JSON may be nested. The deepest event of ours has nine levels. */
export const MAX_DEPTH = 60;

/**
 * Unpacked to packed bytes. Our own files are not compressed at all; JSON lines
 * that somebody packed again come to about 15. A zip bomb starts at 1,000.
 */
export const MAX_RATIO = 200;

/** "32 MB", "2.5 kB", as in the sentences that name a limit. */
export function inWords(bytes: number): string {
  const round = (n: number) => String(Math.round(n * 10) / 10);
  if (bytes >= MB) return `${round(bytes / MB)} MB`;
  return bytes >= 1024 ? `${round(bytes / 1024)} kB` : `${bytes} bytes`;
}
