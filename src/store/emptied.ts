/**
 * Chromium deletes a database that it finds damaged and makes an empty one in
 * its place, silently. After a kill in the middle of a write that has been seen
 * ("checksum mismatch"), so the page has to notice by itself.
 */

/** What is used of `localStorage`: it lies in other files than the database. */
export interface Marks {
  getItem(key: string): string | null;
  setItem(key: string, value: string): void;
}

export const EMPTIED =
  'The record of earlier walks on this device is gone: the browser threw its damaged database away and began an empty one. Restore your latest backup.';

/**
 * Whether a database that was just made had been there before, and leaves the
 * mark for the next time. Clearing the site's data clears the mark too, so that
 * what a person wiped is not called lost.
 *
 * @param made whether this opening made the database
 * @param damaged the browser itself says that it threw one away
 */
export function wasEmptied(
  marks: Marks | undefined,
  name: string,
  made: boolean,
  damaged: boolean,
): boolean {
  const key = `${name} record`;
  try {
    const before = marks?.getItem(key) !== null && marks !== undefined;
    marks?.setItem(key, 'made');
    return made && (damaged || before);
  } catch {
    // No storage of that kind is allowed here: only the browser's word counts.
    return made && damaged;
  }
}
