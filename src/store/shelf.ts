import type { Catalogue } from '#shared/catalogue';
import type { SoundPlace } from '#shared/heard';
import type { Digest } from './digest.ts';
import type { KeptKey } from './seal.ts';

/** An event as it lies on the disk: its text, and what it is looked up by. */
export interface Row {
  readonly id: string;
  readonly device: string;
  readonly walk: string | null;
  readonly aircraft: string | null;
  readonly kind: string;
  readonly prev: string | null;
  readonly hash: string;
  /** RFC 8785 text of the whole event. Never written twice. */
  readonly text: string;
}

/**
 * In front of everything that a row is looked up by when it was set aside: kept
 * word for word, and found by nobody who does not ask for what is aside. An id
 * that begins like this is refused at the border.
 */
export const ASIDE = '~';

/** A piece of sound, or a picture (see shared/kept.ts). */
export interface SoundRow {
  readonly recording: string;
  readonly chunk: number;
  readonly place: SoundPlace;
  readonly mime: string;
  readonly hash: string;
  readonly data: ArrayBuffer;
}

export type RowIndex = 'walk' | 'aircraft' | 'kind' | 'device';

/** What one durable transaction writes. */
export interface Work {
  readonly rows: readonly Row[];
  readonly sounds?: readonly SoundRow[];
  /** Recordings whose sound is deleted. */
  readonly erase?: readonly string[];
}

/** What the shelf keeps beside the events: device id, key, settings. */
export interface Notes {
  device: string;
  key: KeptKey;
  [setting: `setting:${string}`]: unknown;
}

/**
 * Where the record lies. There are two: the browser's database, and memory.
 * Everything that is a rule of the record is above it, in `store.ts`.
 */
export interface Shelf {
  readonly durability: 'strict' | 'relaxed' | 'memory';
  /**
   * One transaction. `make` is called in it, synchronously, with the hash of
   * the device's latest event; what it returns is on disk when this resolves,
   * all of it or nothing.
   */
  write(device: string, make: (head: string | null) => Work): Promise<void>;
  /**
   * Rows as they were written elsewhere; those whose id is here already are left
   * alone. With a head, that device's chain goes on from it.
   */
  take(
    rows: readonly Row[],
    head?: { readonly device: string; readonly hash: string },
  ): Promise<void>;
  takeSound(sounds: readonly SoundRow[]): Promise<void>;

  rows(by?: { readonly index: RowIndex; readonly value: string }): Promise<readonly Row[]>;
  row(id: string): Promise<Row | undefined>;
  count(index: RowIndex, value: string): Promise<number>;
  /** The row that was written last. */
  newest(): Promise<Row | undefined>;
  /** The row that was written last among those. */
  latest(index: RowIndex, value: string): Promise<Row | undefined>;

  /** What the list of walks needs of each, without reading the log: only what arrived since the last time is read. */
  digests(): Promise<readonly Digest[]>;
  /**
   * What was worked out from the log and can be worked out again, such as the
   * fold of a walk, by kind and key. May be lost at any time.
   */
  derived(kind: string): Promise<ReadonlyMap<string, unknown>>;
  keepDerived(kind: string, values: ReadonlyMap<string, unknown>): Promise<void>;

  sounds(recording: string): Promise<readonly SoundRow[]>;
  soundSizes(): Promise<readonly { recording: string; chunk: number; bytes: number }[]>;

  putCatalogue(edition: string, catalogue: Catalogue): Promise<void>;
  catalogue(edition: string): Promise<Catalogue | undefined>;
  editions(): Promise<readonly string[]>;

  note<K extends keyof Notes & string>(name: K): Promise<Notes[K] | undefined>;
  /** Writes it unless it is there; gives what is there afterwards. */
  noteOnce<K extends keyof Notes & string>(name: K, value: Notes[K]): Promise<Notes[K]>;
  setNote<K extends keyof Notes & string>(name: K, value: Notes[K]): Promise<void>;

  close(): void;
}
