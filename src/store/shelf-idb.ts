import { openDB, type DBSchema, type IDBPDatabase } from 'idb';
import type { Catalogue } from '#shared/catalogue';
import { StoreTrouble } from './contract.ts';
import { digestsIn } from './digests-idb.ts';
import type { Notes, Row, RowIndex, Shelf, SoundRow } from './shelf.ts';

export interface Base extends DBSchema {
  /** Keyed by order of arrival. */
  events: {
    key: number;
    value: Row;
    indexes: { id: string; walk: string; aircraft: string; kind: string; device: string };
  };
  sounds: { key: [string, number]; value: SoundRow };
  /** Sizes apart from the data, so that a sum need not read the sound. */
  sizes: {
    key: [string, number];
    value: { recording: string; chunk: number; bytes: number };
  };
  catalogues: { key: string; value: Catalogue };
  notes: { key: string; value: unknown };
  heads: { key: string; value: string };
  /** Made from the events, and made anew when they are not there. */
  digests: { key: string; value: string };
  derived: { key: [string, string]; value: unknown };
}

/** 2: with what is derived. Nothing that was there before is changed. */
const FORMAT = 2;
type Writing = 'events' | 'sounds' | 'sizes' | 'catalogues' | 'notes' | 'heads';

/**
 * A shelf in the browser's own database. "strict": a transaction is done when
 * the system says that it is on the disk. Browsers that do not know the word
 * ignore it, and then say so.
 *
 * @param onLost called when the browser closed the database under us
 * @param onMade called when the database was not there; `damaged`: the browser says it threw one away
 */
export async function idbShelf(
  name: string,
  onLost: (why: string) => void,
  onMade: (damaged: boolean) => void = () => undefined,
): Promise<Shelf> {
  let closed = false;
  let db: IDBPDatabase<Base>;
  try {
    db = await openDB<Base>(name, FORMAT, {
      upgrade(base, from, _to, _tx, event) {
        base.createObjectStore('digests');
        base.createObjectStore('derived');
        if (from > 0) return;
        // Chromium's own word for it; other browsers say nothing.
        onMade(Reflect.get(event, 'dataLoss') === 'total');
        const events = base.createObjectStore('events', { autoIncrement: true });
        events.createIndex('id', 'id', { unique: true });
        for (const index of ['walk', 'aircraft', 'kind', 'device'] as const)
          events.createIndex(index, index);
        base.createObjectStore('sounds');
        base.createObjectStore('sizes');
        base.createObjectStore('catalogues');
        base.createObjectStore('notes');
        base.createObjectStore('heads');
      },
      blocking(_from, _to, event) {
        // A newer Talkround in another tab waits for us to let go.
        (event.target as IDBDatabase).close();
        closed = true;
        onLost('A newer Talkround was opened in another tab. Load this page again.');
      },
      terminated() {
        closed = true;
        onLost('The browser closed the record. Load this page again; what was heard is on disk.');
      },
    });
  } catch (error) {
    throw openTrouble(error);
  }

  /** The one place where a transaction is made. */
  function writing(stores: Writing[]) {
    if (closed) throw new StoreTrouble('closed', 'The record is closed. Load this page again.');
    return db.transaction(stores, 'readwrite', { durability: 'strict' });
  }
  async function settled<T>(act: () => Promise<T>): Promise<T> {
    try {
      return await act();
    } catch (error) {
      throw writeTrouble(error);
    }
  }
  const soundRange = (recording: string) =>
    IDBKeyRange.bound([recording, -Infinity], [recording, Infinity]);

  const probe = writing(['notes']);
  const granted: unknown = Reflect.get(probe, 'durability');
  await probe.done;

  return {
    durability: granted === 'strict' ? 'strict' : 'relaxed',
    write: (device, make) =>
      settled(async () => {
        const tx = writing(['events', 'sounds', 'sizes', 'heads']);
        // An aborted transaction rejects `done` as well; it is awaited below,
        // and this keeps it from being reported twice.
        tx.done.catch(() => undefined);
        const events = tx.objectStore('events');
        const heads = tx.objectStore('heads');
        await wholly(tx, async () => {
          const work = make((await heads.get(device)) ?? null);
          const puts: Promise<unknown>[] = work.rows.map((row) => events.add(row));
          const last = work.rows.at(-1);
          if (last !== undefined) puts.push(heads.put(last.hash, device));
          for (const sound of work.sounds ?? []) puts.push(...putSound(tx, sound));
          for (const recording of work.erase ?? []) {
            puts.push(tx.objectStore('sounds').delete(soundRange(recording)));
            puts.push(tx.objectStore('sizes').delete(soundRange(recording)));
          }
          await Promise.all(puts);
        });
      }),
    take: (rows, head) =>
      settled(async () => {
        const tx = writing(['events', 'heads']);
        tx.done.catch(() => undefined);
        const events = tx.objectStore('events');
        await wholly(tx, async () => {
          // Asked for all at once: one after the other takes ten times as long.
          const there = await Promise.all(rows.map((row) => events.index('id').getKey(row.id)));
          const added = new Set<string>();
          for (const [i, row] of rows.entries()) {
            if (there[i] !== undefined || added.has(row.id)) continue;
            added.add(row.id);
            // What goes wrong with one aborts the transaction, which is awaited.
            void events.add(row).catch(() => undefined);
          }
          if (head !== undefined) await tx.objectStore('heads').put(head.hash, head.device);
        });
      }),
    takeSound: (sounds) =>
      settled(async () => {
        const tx = writing(['sounds', 'sizes']);
        tx.done.catch(() => undefined);
        await wholly(tx, () => Promise.all(sounds.flatMap((sound) => putSound(tx, sound))));
      }),
    rows: (by) =>
      settled(async () =>
        by === undefined
          ? db.getAll('events')
          : db.getAllFromIndex('events', by.index as RowIndex, by.value),
      ),
    row: (id) => settled(() => db.getFromIndex('events', 'id', id)),
    count: (index, value) => settled(() => db.countFromIndex('events', index, value)),
    newest: () =>
      settled(async () => (await db.transaction('events').store.openCursor(null, 'prev'))?.value),
    latest: (index, value) =>
      settled(async () => {
        const at = db.transaction('events').store.index(index);
        return (await at.openCursor(IDBKeyRange.only(value), 'prev'))?.value;
      }),
    digests: () => settled(() => digestsIn(db)),
    derived: (kind) =>
      settled(async () => {
        const { store } = db.transaction('derived');
        const range = IDBKeyRange.bound([kind], [kind, []]);
        const [keys, values] = await Promise.all([store.getAllKeys(range), store.getAll(range)]);
        return new Map(keys.map(([, key], i) => [key, values[i]] as const));
      }),
    keepDerived: (kind, values) =>
      settled(async () => {
        // Relaxed: what a crash takes of it is worked out again.
        const tx = db.transaction('derived', 'readwrite', { durability: 'relaxed' });
        tx.done.catch(() => undefined);
        for (const [key, value] of values)
          void tx.store.put(value, [kind, key]).catch(() => undefined);
        await tx.done;
      }),
    sounds: (recording) => settled(() => db.getAll('sounds', soundRange(recording))),
    soundSizes: () => settled(() => db.getAll('sizes')),
    putCatalogue: (edition, catalogue) =>
      settled(async () => {
        const tx = writing(['catalogues']);
        tx.done.catch(() => undefined);
        await Promise.all([tx.objectStore('catalogues').put(catalogue, edition), tx.done]);
      }),
    catalogue: (edition) => settled(() => db.get('catalogues', edition)),
    editions: () => settled(() => db.getAllKeys('catalogues')),
    note: <K extends keyof Notes & string>(key: K) =>
      settled(async () => (await db.get('notes', key)) as Notes[K] | undefined),
    noteOnce: <K extends keyof Notes & string>(key: K, value: Notes[K]) =>
      settled(async () => {
        // Nothing takes a note away: one that is there need not be written for.
        const before = (await db.get('notes', key)) as Notes[K] | undefined;
        if (before !== undefined) return before;
        const tx = writing(['notes']);
        tx.done.catch(() => undefined);
        const notes = tx.objectStore('notes');
        const there = (await notes.get(key)) as Notes[K] | undefined;
        if (there === undefined) await notes.put(value, key);
        await tx.done;
        return there ?? value;
      }),
    setNote: (key, value) =>
      settled(async () => {
        const tx = writing(['notes']);
        tx.done.catch(() => undefined);
        await Promise.all([tx.objectStore('notes').put(value, key), tx.done]);
      }),
    close() {
      closed = true;
      db.close();
    },
  };
}

/** All of it or nothing: a transaction that goes on without one of its writes would keep the others. */
async function wholly(
  tx: { abort(): void; readonly done: Promise<void> },
  act: () => Promise<unknown>,
): Promise<void> {
  try {
    await act();
  } catch (error) {
    try {
      tx.abort();
    } catch {
      // It was aborted already; the reason is the error.
    }
    throw error;
  }
  await tx.done;
}

/** The two stores of a chunk, in whatever transaction it is. */
function putSound(
  tx: {
    objectStore(name: 'sounds' | 'sizes'): {
      put(value: never, key: [string, number]): Promise<unknown>;
    };
  },
  sound: SoundRow,
): Promise<unknown>[] {
  const key: [string, number] = [sound.recording, sound.chunk];
  const size = {
    recording: sound.recording,
    chunk: sound.chunk,
    bytes: sound.data.byteLength,
  };
  return [
    tx.objectStore('sounds').put(sound as never, key),
    tx.objectStore('sizes').put(size as never, key),
  ];
}

const nameOf = (error: unknown): string => {
  if (typeof error !== 'object' || error === null || !('name' in error)) return '';
  return String(error.name);
};

function openTrouble(error: unknown): StoreTrouble {
  if (nameOf(error) === 'VersionError')
    return new StoreTrouble(
      'newer',
      'The record on this device was written by a newer Talkround. Load the page again while online to get it.',
      error,
    );
  if (nameOf(error) === 'QuotaExceededError') return writeTrouble(error) as StoreTrouble;
  return new StoreTrouble(
    'unsupported',
    'This browser does not let Talkround keep a record here. Private windows often forbid it: use an ordinary one.',
    error,
  );
}

/** Errors of the database in words; anything else as it is. */
function writeTrouble(error: unknown): unknown {
  switch (nameOf(error)) {
    case 'QuotaExceededError':
      return new StoreTrouble(
        'full',
        'There is no room left on this device. Free some space, or save a backup and erase old sound.',
        error,
      );
    case 'InvalidStateError':
      return new StoreTrouble('closed', 'The record is closed. Load this page again.', error);
    case 'ConstraintError':
      return new StoreTrouble('refused', 'An event with this id is in the log already.', error);
    case 'UnknownError':
    case 'DataError':
    case 'NotReadableError':
      return new StoreTrouble(
        'broken',
        'The browser could not write to the record. Save a backup, then load this page again.',
        error,
      );
    default:
      return error;
  }
}
