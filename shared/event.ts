import { z } from 'zod';
import { Circumstance } from './circumstance.ts';
import type { Format } from './format.ts';
import { Heard, SoundPlace } from './heard.ts';
import { Instant } from './instant.ts';
import { Learned } from './phrasebook.ts';
import { Picture, PictureOf } from './picture.ts';
import { Question } from './question.ts';
import { Replied } from './replied.ts';
import { SquawkStep } from './squawk.ts';
import { Statement } from './statement.ts';

/** The pilot in command's own decision. Never Talkround's (R9). */
export const Decision = z.enum(['fly', 'defer', 'ground', 'hand-over']);
export type Decision = z.infer<typeof Decision>;

/** Which reader turned words into statements. */
export const ReadBy = z.object({
  /** Version of the learned scores; null: read without any. */
  version: z.string().nullable(),
  /** SHA-256, hex, of the file of the scores; null where it was not told. */
  weights: z.string().nullable(),
});
export type ReadBy = z.infer<typeof ReadBy>;

/** What a seal covers, so that nothing can be put in or taken out unseen. */
export const SealCovers = z.object({
  walk: z.string(),
  /** The walk itself, or what its writer said beside it after the signature. */
  part: z.enum(['walk', 'beside']),
  /** Hash of the event that began the walk. */
  begun: z.string(),
  /** How many events, and the Merkle tree hash (RFC 9162) over their hashes in their order. */
  events: z.number().int(),
  root: z.string(),
  /** Last event of each other device that belongs to the walk. */
  heads: z.array(z.object({ device: z.string(), hash: z.string() })),
  /** What the device is called by whoever holds it. */
  name: z.string().nullable(),
});
export type SealCovers = z.infer<typeof SealCovers>;

/**
 * What happened. The log is append-only and additive: a kind or a field may be
 * added, never renamed, removed or given another meaning.
 */
export const Happening = z.discriminatedUnion('kind', [
  z.object({
    kind: z.literal('walk-begun'),
    aircraft: z.string(),
    catalogue: z.string(),
    /** SHA-256 of the canonical catalogue: the walk keeps the edition it began with. */
    edition: z.string(),
    circumstances: z.array(Circumstance),
    /** Who walks, and who else listens. */
    pilot: z.string().nullable(),
    instructor: z.string().nullable(),
    /** Aircraft time in service, hours, where known. */
    hours: z.number().nullable(),
    listening: z.string(),
    /** Open squawks carried into this walk: squawk id and the check it belongs to. */
    squawks: z.array(
      z.object({ squawk: z.string(), check: z.string().nullable(), text: z.string() }),
    ),
    /**
     * Public key of the device that begins the walk (Ed25519, base64url): a seal
     * of another key does not belong to it. Older walks do not say.
     */
    key: z.string().optional(),
    /** Which reader reads it. Older walks do not say. */
    reader: ReadBy.optional(),
  }),
  /** From here on another version of the reader reads the walk: what it was read as before stays. */
  z.object({ kind: z.literal('reader-changed'), reader: ReadBy }),
  /** Another device may add to this walk from here on; what it adds counts when this key has sealed it. */
  z.object({
    kind: z.literal('let-in'),
    device: z.string(),
    publicKey: z.string(),
    by: z.string().nullable(),
  }),
  z.object({ kind: z.literal('heard'), heard: Heard }),
  z.object({ kind: z.literal('stated'), statement: Statement }),
  z.object({ kind: z.literal('asked'), question: Question }),
  z.object({
    kind: z.literal('question-closed'),
    question: z.string(),
    how: z.enum(['answered', 'unanswered', 'withdrawn']),
  }),
  /** Our own voice, seconds since the walk began (R11); `to` is `from` when nothing sounded after all. */
  z.object({
    kind: z.literal('spoken'),
    text: z.string(),
    from: z.number(),
    to: z.number().nullable(),
  }),
  /** What was given back, tone and words, for the replay and the debrief; R11 goes by `spoken` alone. */
  Replied.extend({ kind: z.literal('replied') }),
  z.object({ kind: z.literal('circumstance-set'), circumstance: Circumstance, holds: z.boolean() }),
  z.object({ kind: z.literal('station-set'), station: z.string() }),
  /** Set by hand on the screen: the same as having been said, shown as by hand. */
  z.object({
    kind: z.literal('held'),
    why: z.enum(['said', 'touched', 'interrupted', 'hidden', 'sound-lost']),
    /** "Hang on": whoever says it mostly just goes on, so the next plain result ends it. */
    moment: z.literal(true).optional(),
  }),
  z.object({
    kind: z.literal('resumed'),
    /** Nobody said so: a plain result ended a hold of a moment. */
    how: z.literal('went-on').optional(),
  }),
  z.object({ kind: z.literal('listening-changed'), listening: z.string(), why: z.string() }),
  z.object({
    kind: z.literal('sound-kept'),
    recording: z.string(),
    chunk: z.number().int(),
    place: SoundPlace,
    mime: z.string(),
    hash: z.string(),
  }),
  z.object({ kind: z.literal('sound-missing'), why: z.string() }),
  /** The sound of a person was erased on request; the hashes stay. */
  z.object({ kind: z.literal('sound-erased'), recording: z.string(), why: z.string() }),
  /** A picture of a finding or a squawk; its bytes lie where sound lies. */
  Picture.extend({ kind: z.literal('picture-kept'), of: PictureOf }),
  /** Its bytes were erased on request; its hash stays. */
  z.object({ kind: z.literal('picture-erased'), picture: z.string(), why: z.string() }),
  /** An unplaced finding is given its check by hand (R4). */
  z.object({
    kind: z.literal('finding-placed'),
    statement: z.string(),
    check: z.string(),
    instances: z.array(z.string()),
    by: z.string(),
  }),
  /** A reviewer's correction in the debrief: beside the original, never instead of it. */
  z.object({
    kind: z.literal('reviewed'),
    by: z.string(),
    note: z.string(),
    of: z.discriminatedUnion('kind', [
      z.object({
        kind: z.literal('reading'),
        statement: z.string(),
        instead: Statement.nullable(),
      }),
      z.object({
        kind: z.literal('standing'),
        check: z.string(),
        standing: z.enum(['spoken', 'part', 'question', 'unspoken', 'set-aside']),
      }),
    ]),
  }),
  z.object({
    kind: z.literal('finished'),
    /** Checks open at that moment. */
    open: z.array(z.string()),
    /** Left out in older events: said. At the end of a file nobody called the completion. */
    how: z.enum(['said', 'touched', 'end-of-file']).optional(),
  }),
  /**
   * The walk was thrown away unfinished: it counts for nothing and is not taken
   * up again. Everything said in it stays, and what was found is a squawk (R4).
   */
  z.object({
    kind: z.literal('discarded'),
    how: z.enum(['said', 'touched']),
    why: z.string().nullable(),
  }),
  z.object({
    kind: z.literal('decided'),
    decision: Decision,
    by: z.string(),
    /** For "defer": the authorised person who set the limits, and the limits. */
    authority: z.string().nullable(),
    note: z.string().nullable(),
  }),
  z.object({
    kind: z.literal('signed'),
    name: z.string(),
    certificate: z.string().nullable(),
  }),
  z.object({
    kind: z.literal('sealed'),
    /** Ed25519, raw 32 bytes and 64 bytes, base64url. The signature is over the hash of the event before. */
    publicKey: z.string(),
    signature: z.string(),
    over: z.string(),
    /**
     * What exactly it covers. With it, the signature is over the SHA-256 of the
     * RFC 8785 form of {seal, over, publicKey, covers}; older seals are over
     * `over` alone.
     */
    covers: SealCovers.optional(),
  }),
  /** What words were told to mean, for this aircraft and this speaker. */
  z.object({ kind: z.literal('learned'), learned: Learned }),
  /** It is forgotten again; `learned` is its id. `undone`: it counts after all. */
  z.object({
    kind: z.literal('unlearned'),
    learned: z.string(),
    undone: z.boolean().optional(),
  }),
  /** Something that has to be said after the signature: beside the walk, never in its coverage. */
  z.object({ kind: z.literal('amendment'), by: z.string(), note: z.string() }),
  /**
   * The browser had lost its database, or the end of it, and the second copy on
   * the device gave back so much. key "new": the seal key was lost with the
   * database, because no program may read it; seals from here on are made with a
   * new key of the same device.
   */
  z.object({
    kind: z.literal('brought-back'),
    events: z.number().int(),
    chunks: z.number().int(),
    /** Left out by older versions, which kept none. */
    pictures: z.number().int().optional(),
    damaged: z.number().int(),
    key: z.enum(['kept', 'new', 'none']),
  }),
  z.object({ kind: z.literal('squawk'), squawk: z.string(), step: SquawkStep }),
]);
export type Happening = z.infer<typeof Happening>;
export type HappeningKind = Happening['kind'];

export const Event = z.object({
  v: z.literal(1),
  /** UUIDv7. */
  id: z.string(),
  /** Which device's chain it belongs to. */
  device: z.string(),
  /** The walk; null for what happens outside one, such as a quick squawk. */
  walk: z.string().nullable(),
  aircraft: z.string().nullable(),
  /** Device clock, milliseconds since 1970. */
  at: Instant,
  /** Seconds since the walk began, by a clock that cannot jump; null outside a walk. */
  t: z.number().nullable(),
  what: Happening,
  /** Hash of the event before it in the device's chain; null for the first. */
  prev: z.string().nullable(),
  /** SHA-256, hex, of the RFC 8785 form of the event without this field. */
  hash: z.string(),
});
export type Event = z.infer<typeof Event>;

/** An event before it is chained: what stages make and the store completes. */
export type Draft = Omit<Event, 'device' | 'prev' | 'hash'>;

export const EventFormat: Format<typeof Event> = {
  name: 'event',
  version: 1,
  schema: Event,
  upcasters: {},
};
