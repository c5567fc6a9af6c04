import type { Happening, HappeningKind } from './event.ts';
import type { SoundPlace } from './heard.ts';

/**
 * What lies beside the log and is named in it by its hash: pieces of sound, and
 * pictures. A picture lies like a recording of one piece, under its own id.
 */
export interface KeptBytes {
  readonly recording: string;
  readonly chunk: number;
  readonly place: SoundPlace;
  readonly mime: string;
  /** SHA-256 of the bytes, hex. */
  readonly hash: string;
}

/** Kinds of events that name bytes, and those that say that they were erased. */
export const KEPT = ['sound-kept', 'picture-kept'] as const satisfies readonly HappeningKind[];
export const ERASED = [
  'sound-erased',
  'picture-erased',
] as const satisfies readonly HappeningKind[];

const ERASES: ReadonlySet<string> = new Set(ERASED);

export function isErasure(kind: string): boolean {
  return ERASES.has(kind);
}

/** The only piece of a picture. */
export const PICTURE_CHUNK = 0;

/** The bytes that an event names; null when it names none. */
export function keptIn(what: Happening): KeptBytes | null {
  if (what.kind === 'sound-kept') return what;
  if (what.kind !== 'picture-kept') return null;
  const { picture, mime, hash } = what;
  const place = { recording: picture, from: 0, to: 0 };
  return { recording: picture, chunk: PICTURE_CHUNK, place, mime, hash };
}

/** The recording or picture that an event says was erased; null when it says no such thing. */
export function erasedIn(what: Happening): string | null {
  if (what.kind === 'sound-erased') return what.recording;
  return what.kind === 'picture-erased' ? what.picture : null;
}
