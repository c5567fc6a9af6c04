import type { Picture, Shown } from '#shared/picture';

/** Pictures with their bytes, as far as they are here, by the hash of their bytes. */
export type PicturesHere = ReadonlyMap<string, Shown>;

/** What is said in the place of a picture that cannot be shown; null when it can. */
export function absentWords(shown: Shown | undefined): string | null {
  if (shown === undefined || shown.state === 'gone')
    return 'A picture was taken, and it is not on this device.';
  return shown.state === 'erased' ? `A picture was erased on request: ${shown.why}.` : null;
}

/** "2 pictures"; null where there is none. */
export function pictureCount(pictures: readonly Picture[] | undefined): string | null {
  const n = pictures?.length ?? 0;
  return n === 0 ? null : `${n} ${n === 1 ? 'picture' : 'pictures'}`;
}
