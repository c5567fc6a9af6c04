import type { Catalogue } from '#shared/catalogue';
import type { Decision, Draft, Event } from '#shared/event';
import type { SoundPlace } from '#shared/heard';
import type { Log } from '#shared/log';
import type { Picture, PictureOf, Shown } from '#shared/picture';
import type { Backup, BackupOptions } from './backup.ts';
import type { Merged } from './merge.ts';
import type { Restored, RestoreOptions } from './restore.ts';
import type { Room } from './room.ts';
import type { SchoolWays } from './school-ways.ts';
import type { DeviceKey } from './trust/fingerprint.ts';
import type { WalkTrust } from './trust/opened.ts';
import type { Verdict } from './verify.ts';

/** One line of the list of walks. Times in milliseconds since 1970. */
export interface WalkSummary {
  readonly walk: string;
  readonly aircraft: string;
  readonly catalogue: string;
  readonly edition: string;
  readonly pilot: string | null;
  readonly instructor: string | null;
  /** Hours of the aircraft that the pilot gave at its begin. */
  readonly hours: number | null;
  readonly begun: number;
  /** When its latest event was written. */
  readonly last: number;
  readonly events: number;
  readonly finished: boolean;
  readonly discarded: boolean;
  readonly decision: Decision | null;
  readonly signed: string | null;
  readonly sealed: boolean;
  /** Begun on this device, not merged from another. */
  readonly own: boolean;
  /** Which state of the walk this is: another one whenever anything of it was added. */
  readonly mark: string;
}

/** An event that this version cannot read. It stays in the log. */
export interface Unreadable {
  readonly id: string;
  readonly walk: string | null;
  readonly device: string;
  readonly error: string;
}

/** A chunk of a recording to be kept. */
export interface SoundChunk {
  readonly walk: string | null;
  readonly aircraft: string | null;
  /** Seconds since the walk began. */
  readonly t: number | null;
  readonly recording: string;
  /** 0, 1, 2 … */
  readonly chunk: number;
  /** Where in the recording it lies, in seconds. */
  readonly place: SoundPlace;
  readonly mime: string;
  readonly data: ArrayBuffer;
}

/**
 * What became of a chunk. When there is no room, `kept` is false, the sentence
 * may be shown and spoken, and the log holds `sound-missing` from the first
 * chunk that did not fit.
 */
export type SoundKept =
  | { readonly kept: true; readonly event: Event }
  | { readonly kept: false; readonly why: string; readonly event: Event | null };

/** A picture to be kept, made anew from its pixels before it comes here. */
export interface PictureToKeep {
  readonly walk: string | null;
  readonly aircraft: string | null;
  /** Seconds since the walk began. */
  readonly t: number | null;
  readonly picture: string;
  readonly of: PictureOf;
  readonly mime: string;
  readonly width: number;
  readonly height: number;
  readonly data: ArrayBuffer;
}

/** A picture that the log names. */
export interface KeptPicture {
  readonly walk: string | null;
  readonly aircraft: string | null;
  readonly of: PictureOf;
  readonly picture: Picture;
}

export interface KeptChunk {
  readonly recording: string;
  readonly chunk: number;
  readonly place: SoundPlace;
  readonly mime: string;
  /** SHA-256 of the data, hex. */
  readonly hash: string;
  readonly data: ArrayBuffer;
}

/** A recording as far as it is here. */
export interface KeptSound {
  readonly recording: string;
  readonly mime: string | null;
  /** In order. Slices of a browser's recorder play only when joined from the first on. */
  readonly chunks: readonly KeptChunk[];
  /** Numbers of chunks that the log names and that are not here. */
  readonly missing: readonly number[];
  /** Why it was erased, when it was. */
  readonly erased: string | null;
}

/** Ends a subscription, gives back a lock. */
export type Off = () => void;

/**
 * What happened to the log, here or in another tab. Of a restore or a merge only
 * what says how far walks have come, and squawks: whoever needs more reads it.
 */
export interface News {
  readonly events: readonly Event[];
  /** Written by this page. */
  readonly own: boolean;
}

/**
 * The record. Append-only: nothing here changes or removes an event. Sound can
 * be erased on request, and the erasing is an event.
 *
 * Every method may reject with `StoreTrouble`, whose message is a sentence that
 * may be shown.
 */
export interface Store extends Log, SchoolWays {
  /** Id of this device's chain. */
  readonly device: string;
  /** What the platform granted. "memory": nothing outlives the program. */
  readonly durability: 'strict' | 'relaxed' | 'memory';

  /**
   * What the sheet of a walk counts, what was said beside it, and what may be
   * said of its seal. A version of it is named by `WALK@MARK`.
   */
  judged(walk: string): Promise<WalkTrust>;
  /** What the sheet counts, without looking at hashes and seals: for lists. */
  counted(walk: string): Promise<readonly Event[]>;

  /** Every event of every device, in the order of `inOrder`. */
  all(): Promise<readonly Event[]>;
  /** Latest first. */
  walks(): Promise<readonly WalkSummary[]>;
  /** Everything about one aircraft, in every walk and outside. */
  aircraftEvents(aircraft: string): Promise<readonly Event[]>;
  /** Which state the squawks are in: another one whenever a step was added. */
  squawkMark(): Promise<string>;
  /** Every step of every squawk. */
  squawkEvents(): Promise<readonly Event[]>;
  /** What words were told to mean, and what was forgotten, on every aircraft (shared/phrasebook.ts). */
  learnedEvents(): Promise<readonly Event[]>;
  unreadable(): Promise<readonly Unreadable[]>;

  /** Keeps an edition. Rejects when `edition` is not the SHA-256 of its RFC 8785 form. */
  keepCatalogue(edition: string, catalogue: Catalogue): Promise<void>;
  catalogue(edition: string): Promise<Catalogue | null>;
  editions(): Promise<readonly string[]>;

  /** Chunk and event in one durable transaction. */
  keepSound(chunk: SoundChunk): Promise<SoundKept>;
  /** @param of events of the walk that is listened to: nothing is its sound but what they name */
  sound(recording: string, of?: readonly Event[]): Promise<KeptSound>;
  recordings(): Promise<readonly { recording: string; bytes: number; chunks: number }[]>;
  /** Recordings in which this person speaks: of walks with them in it, or with words under their name. */
  recordingsOf(person: string): Promise<readonly string[]>;
  /** Deletes the sound and says so in the log; the hashes stay, the chain holds. */
  eraseSound(recording: string, why: string): Promise<Event>;

  /** Picture and event in one durable transaction. Rejects where there is no room beside the words. */
  keepPicture(picture: PictureToKeep): Promise<Event>;
  /** With its hash, just that one: somebody else's walk may name another picture so. */
  picture(picture: string, hash?: string): Promise<Shown>;
  pictures(): Promise<readonly KeptPicture[]>;
  /** Deletes its bytes and says so in the log; the hash stays, the chain holds. */
  erasePicture(picture: string, why: string): Promise<Event>;

  /**
   * What was worked out from the log and can be worked out again, by kind and
   * key: for what would take long at the opening. May be lost at any time, and is
   * in no backup.
   */
  derived(kind: string): Promise<ReadonlyMap<string, unknown>>;
  keepDerived(kind: string, values: ReadonlyMap<string, unknown>): Promise<void>;

  /** A small value under a key, such as the choice of recogniser. JSON values only. */
  setting(key: string): Promise<unknown>;
  setSetting(key: string, value: unknown): Promise<void>;

  subscribe(listener: (news: News) => void): Off;

  /** The right to record: held by one tab at a time. Null when another has it. */
  takeRecorder(): Promise<Off | null>;
  /** Waits until the right is free, then takes it. Rejects when the signal aborts. */
  waitForRecorder(signal?: AbortSignal): Promise<Off>;
  /** true while some tab of this device records. */
  recording(): Promise<boolean>;

  /** Asks for persistent storage and the quota. Before every walk. */
  room(): Promise<Room>;

  /**
   * Signs the walk up to here with the device's key, which ends it. A signature
   * that is appended is sealed in the same write; this is for a walk that nobody
   * signs. On a device that the walk has let in: signs what it added so far, and
   * ends nothing.
   */
  seal(walk: string): Promise<Event>;
  /** This device and those that were met, with the fingerprints of their keys. */
  devices(): Promise<readonly DeviceKey[]>;
  /** What this device is called in its seals from here on. */
  nameDevice(name: string): Promise<void>;
  /**
   * Two people have compared the fingerprint of this key, or take that back. Of
   * that device alone; left out: of the one that was met under it first.
   */
  compareKey(publicKey: string, compared: boolean, device?: string): Promise<void>;
  /** A device whose key two people compared before anything of it was brought in. */
  meetDevice(met: Pick<DeviceKey, 'device' | 'publicKey' | 'name'>): Promise<void>;
  /** Signature of the device's key over the 32 bytes of a hash in hex, base64url: for what is given away outside the log. */
  signHash(hash: string): Promise<string>;
  /** Public key of the device, base64url. */
  publicKey(): Promise<string>;
  verify(): Promise<Verdict>;

  /** Takes in events of other devices, as written. Refuses what does not verify, and names it. */
  merge(events: readonly unknown[]): Promise<Merged>;

  /** One file with walks, squawks, catalogues and sound; its layout is in BACKUP.md. */
  backup(options?: BackupOptions): Promise<Backup>;
  /** Takes from a backup what verifies and names the rest. Never rejects for what is in the file. */
  restore(file: Blob | Uint8Array, options?: RestoreOptions): Promise<Restored>;

  close(): void;
}

/** Convenience for makers of drafts: what the store needs to complete one. */
export type { Draft };

/** The store cannot do it; the message says what and what to do. */
export class StoreTrouble extends Error {
  override readonly name = 'StoreTrouble';
  readonly kind: 'full' | 'closed' | 'newer' | 'unsupported' | 'refused' | 'broken';
  constructor(kind: StoreTrouble['kind'], message: string, cause?: unknown) {
    super(message, { cause });
    this.kind = kind;
  }
}
