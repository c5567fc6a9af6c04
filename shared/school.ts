import { z } from 'zod';
import { SchoolAircraft } from './school-people.ts';

/**
 * What a device and its school tell each other. Everything that comes from the
 * other side is read through these: a server is trusted no more than a device.
 */

/**
 * pilot: own walks, and the open squawks of every aircraft. instructor: the walks
 * of their students, and reviews of them. maintenance: squawks and answers to
 * them, no words and no sound of a walk. chief: people, devices, aircraft and
 * catalogues; no words of a walk.
 */
export const Role = z.enum(['pilot', 'instructor', 'maintenance', 'chief']);
export type Role = z.infer<typeof Role>;

/** Whose voice is kept, how long, and who may hear it. Shown before a device joins. */
export const Terms = z.object({
  /** Whether any sound is kept by the school. The words always are. */
  sound: z.boolean(),
  /** Days after which the school erases sound everywhere; null: never by itself. */
  days: z.number().int().min(1).max(3650).nullable(),
  /** Who may hear a walk besides the pilot who made it. */
  hear: z.array(z.enum(['instructor', 'chief'])),
  /**
   * Who gets what somebody's words were told to mean: nobody, their own devices,
   * or all who walk the aircraft. What nobody's name stands at goes to all who
   * walk, unless it is nobody. A school of before says nothing: their own.
   */
  phrases: z.enum(['none', 'own', 'aircraft']).default('own'),
});
export type Terms = z.infer<typeof Terms>;

/** What is sent with a code, and signed by the key that it names. */
export const JoinRequest = z.object({
  code: z.string().min(6).max(80),
  device: z.string().min(1).max(80),
  publicKey: z.string().min(40).max(50),
  name: z.string().max(80),
  /** The terms that were shown, so that nobody agrees to others than they read. */
  terms: Terms,
});
export type JoinRequest = z.infer<typeof JoinRequest>;

export const Invited = z.object({
  school: z.string(),
  name: z.string(),
  /** Whose phone it will be; null: shared by the pilots of the school. */
  person: z.string().nullable(),
  roles: z.array(Role),
  terms: Terms,
});
export type Invited = z.infer<typeof Invited>;

export const Edition = z.object({
  edition: z.string(),
  /** Id of the catalogue, the same for all its editions. */
  catalogue: z.string(),
  name: z.string(),
  /** 1, 2, 3 … in the order in which the school took them on. */
  number: z.number().int(),
  /** The one that walks are begun with from now on. */
  current: z.boolean(),
});
export type Edition = z.infer<typeof Edition>;

/** How things stand between this device and its school. */
export const Hello = z.object({
  school: z.string(),
  name: z.string(),
  /** Server clock, milliseconds since 1970. */
  now: z.number(),
  person: z.object({ id: z.string(), name: z.string() }).nullable(),
  roles: z.array(Role),
  terms: Terms,
  /** Hash of the last event that the school has of this device; null: none. */
  head: z.string().nullable(),
  /** When a desk is signed out by itself; null for a phone. */
  until: z.number().nullable(),
  editions: z.array(Edition),
  /** Editions of this device's walks that the school has not got. */
  lacks: z.array(z.string()),
  /** Names of the people, for choosing who walks. */
  pilots: z.array(z.string()),
  /** The school's aircraft; what was kept before there was a list has none. */
  aircraft: z.array(SchoolAircraft).default([]),
  /** The cursor that asking for phrases would end at: who has it need not ask. */
  phrases: z.string().default(''),
});
export type Hello = z.infer<typeof Hello>;

export const Told = z.object({ event: z.string(), walk: z.string().nullable(), why: z.string() });
export type Told = z.infer<typeof Told>;

/** What became of events that went up. */
export const Taken = z.object({
  head: z.string().nullable(),
  added: z.number().int(),
  known: z.number().int(),
  /** Not taken, with the reason. */
  refused: z.array(Told),
  /** Kept word for word, and given to nobody. */
  aside: z.array(Told),
});
export type Taken = z.infer<typeof Taken>;

export const FeedPage = z.object({
  events: z.array(
    z.object({
      /** The event as it was written, JSON. */
      text: z.string(),
      /** A step of a squawk from a walk that is not handed over. */
      loose: z.boolean(),
    }),
  ),
  /** To be given next time. */
  cursor: z.string(),
  more: z.boolean(),
});
export type FeedPage = z.infer<typeof FeedPage>;

/** A piece of sound, or a picture as a recording of one piece, that the log names by its hash. */
export const PieceName = z.object({
  recording: z.string(),
  chunk: z.number().int(),
  hash: z.string(),
  picture: z.boolean(),
});
export type PieceName = z.infer<typeof PieceName>;

/** What became of pieces that went up, each by itself. */
export const PiecesTaken = z.object({
  kept: z.array(z.string()),
  refused: z.array(
    z.object({
      hash: z.string(),
      why: z.string(),
      /** It is not to be kept any more: nothing is wrong. */
      gone: z.boolean(),
    }),
  ),
});
export type PiecesTaken = z.infer<typeof PiecesTaken>;

/** A refusal: one sentence that says what and what to do. */
export const Refusal = z.object({ error: z.string(), now: z.number() });
export type Refusal = z.infer<typeof Refusal>;

// What the desk shows.

export const Person = z.object({
  id: z.string(),
  name: z.string(),
  roles: z.array(Role),
  /** Their sound may be kept. */
  voice: z.boolean(),
  /** Ids of the people whom they instruct. */
  students: z.array(z.string()),
  gone: z.boolean(),
});
export type Person = z.infer<typeof Person>;

export const DeviceLine = z.object({
  device: z.string(),
  name: z.string(),
  person: z.string().nullable(),
  desk: z.boolean(),
  joined: z.number(),
  seen: z.number().nullable(),
  events: z.number().int(),
  shut: z.number().nullable(),
  /** Catalogue, the number of its edition there, and the one that is waiting; null: none is. */
  editions: z.array(
    z.object({
      catalogue: z.string(),
      name: z.string(),
      has: z.number().int().nullable(),
      waiting: z.number().int().nullable(),
    }),
  ),
  /** What was refused or put aside of it, the latest first. */
  refused: z.array(z.object({ at: z.number(), why: z.string() })),
});
export type DeviceLine = z.infer<typeof DeviceLine>;

/** A walk as the list shows it, without a word of it. */
export const DeskWalk = z.object({
  id: z.string(),
  aircraft: z.string(),
  catalogue: z.string(),
  pilot: z.string().nullable(),
  instructor: z.string().nullable(),
  begun: z.number(),
  last: z.number(),
  events: z.number().int(),
  station: z.string().nullable(),
  state: z.enum(['walking', 'finished', 'signed']),
  /** Whether whoever asks may open it. */
  open: z.boolean(),
});
export type DeskWalk = z.infer<typeof DeskWalk>;

export const Invitation = z.object({
  code: z.string(),
  /** Milliseconds since 1970. */
  expires: z.number(),
});
export type Invitation = z.infer<typeof Invitation>;

/** What is signed of every request, in this order of fields by RFC 8785. */
export interface Proof {
  readonly school: string;
  readonly device: string;
  /** Server clock, milliseconds since 1970. */
  readonly at: number;
  readonly nonce: string;
  readonly method: string;
  /** Path and query below the school's address. */
  readonly path: string;
  /** SHA-256 of the body, hex. */
  readonly body: string;
}
