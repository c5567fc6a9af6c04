import type { Shelf } from '../shelf.ts';
import { copiedShelf } from './copied-shelf.ts';
import { copyOver, type Copy } from './copy.ts';
import type { CopyFiles } from './files.ts';
import { BEHIND, mend, type BroughtBack } from './mend.ts';

export interface Second {
  /** Writes both. */
  readonly shelf: Shelf;
  readonly copy: Copy;
  readonly back: BroughtBack | null;
  /** This page is done with the record, or lost it. */
  release(): void;
}

/**
 * Puts the second copy beside the database. Only a page that finds no other
 * compares the two: another one may be in the middle of a write. A database
 * that was just made is compared all the same, because whoever is open beside
 * us has lost it.
 */
export async function secondCopy(
  base: Shelf,
  files: CopyFiles,
  name: string,
  made: boolean,
  locks: LockManager | undefined,
): Promise<Second> {
  const copy = await copyOver(files, () => {
    void base.setNote(BEHIND, true).catch(() => undefined);
  });
  const presence = `${name} open`;
  const alone = await held(locks, presence, { ifAvailable: true });
  let back: BroughtBack | null = null;
  if (made || alone !== null) {
    const turn = await held(locks, `${name} mend`, {});
    try {
      back = await mend(base, copy, made);
    } catch {
      // It is tried again at the next opening; the database is as it was.
      await base.setNote(BEHIND, true).catch(() => undefined);
    } finally {
      turn?.();
    }
  }
  // Asked for before the other is given back: nobody comes in between.
  const shared = held(locks, presence, { mode: 'shared' });
  alone?.();
  const present = await shared;
  const shelf = copiedShelf(base, copy);
  const release = () => present?.();
  return {
    shelf: {
      ...shelf,
      close() {
        release();
        shelf.close();
      },
    },
    copy,
    back,
    release,
  };
}

/** Holds a lock until the function it gives is called. Null: somebody else has it. Without locks there is one page. */
function held(
  locks: LockManager | undefined,
  name: string,
  options: LockOptions,
): Promise<(() => void) | null> {
  if (locks === undefined) return Promise.resolve(() => undefined);
  return new Promise((resolve, reject) => {
    locks
      .request(name, options, (granted) => {
        if (granted === null) return resolve(null);
        return new Promise<void>((release) => resolve(() => release()));
      })
      .catch(reject);
  });
}
