import { canonical } from '../canonical.ts';
import { toBase64Url } from '../seal.ts';
import type { Notes, Shelf, Work } from '../shelf.ts';
import type { Copy } from './copy.ts';
import { linesFor } from './lines.ts';

/**
 * A shelf whose every write is on the disk twice before it is done. Both are
 * written at the same time, which costs no more than the slower of them; what
 * the database refuses is made void in the copy.
 */
export function copiedShelf(shelf: Shelf, copy: Copy): Shelf {
  async function note<K extends keyof Notes & string>(name: K, value: Notes[K]): Promise<void> {
    const kept = keepable(name, value);
    if (kept !== undefined) await copy.line({ kind: 'note', name, value: kept });
  }

  return {
    ...shelf,
    async write(device, make) {
      let work: Work | null = null;
      let copied: Promise<unknown> = Promise.resolve();
      try {
        await shelf.write(device, (head) => {
          work = make(head);
          const { rows, sounds = [] } = work;
          // Sound before the event that names it.
          copied = Promise.all([
            ...sounds.map((s) => copy.sound(s)),
            ...(rows.length === 0 ? [] : [copy.line({ kind: 'rows', rows })]),
          ]);
          return work;
        });
      } catch (error) {
        await copied;
        // By hash, not by id: it may have been refused because the id is here already.
        const hashes = ((work as Work | null)?.rows ?? []).map((r) => r.hash);
        if (hashes.length > 0) await copy.line({ kind: 'void', hashes });
        throw error;
      }
      await copied;
      for (const recording of (work as Work | null)?.erase ?? []) await copy.erase(recording);
    },
    async take(rows, head) {
      await shelf.take(rows, head);
      for (const line of linesFor(rows)) await copy.line(line);
    },
    async takeSound(sounds) {
      await shelf.takeSound(sounds);
      for (const sound of sounds) await copy.sound(sound);
    },
    async putCatalogue(edition, catalogue) {
      await shelf.putCatalogue(edition, catalogue);
      await copy.line({ kind: 'catalogue', edition, catalogue });
    },
    async noteOnce(name, value) {
      const before = await shelf.note(name);
      const there = await shelf.noteOnce(name, value);
      if (before === undefined) await note(name, there);
      return there;
    },
    async setNote(name, value) {
      await shelf.setNote(name, value);
      await note(name, value);
    },
    close() {
      copy.files.close();
      shelf.close();
    },
  };
}

/**
 * What of a note can lie in a file. A key that no program can read cannot: it
 * is the point of it. A key of bytes lies in the database as bytes already.
 */
export function keepable(name: string, value: unknown): unknown {
  if (value === undefined) return undefined;
  if (name === 'key') {
    const key = value as Notes['key'];
    if (key.kind !== 'bytes') return undefined;
    return { kind: key.kind, publicKey: key.publicKey, secret: toBase64Url(key.secret) };
  }
  try {
    canonical(value);
    return value;
  } catch {
    return undefined;
  }
}
