import { z } from 'zod';
import type { Format } from '#shared/format';

/** Name of the manifest in the zip. */
export const MANIFEST = 'talkround.json';

const Hash = z.string().regex(/^[0-9a-f]{64}$/, 'a SHA-256 in hex');
const Size = z.number().int().nonnegative();

/** One file in the zip. */
export const ManifestEntry = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('events'), path: z.string(), bytes: Size, sha256: Hash }),
  z.object({
    kind: z.literal('catalogue'),
    path: z.string(),
    bytes: Size,
    sha256: Hash,
    edition: Hash,
  }),
  z.object({
    kind: z.literal('sound'),
    path: z.string(),
    bytes: Size,
    sha256: Hash,
    recording: z.string(),
    chunk: z.number().int().nonnegative(),
    /** Seconds since the recording began. */
    from: z.number(),
    to: z.number(),
    mime: z.string(),
  }),
]);
export type ManifestEntry = z.infer<typeof ManifestEntry>;

export const Manifest = z.object({
  format: z.literal('talkround-backup'),
  v: z.literal(1),
  /** Milliseconds since 1970. */
  made: z.number(),
  /** The device that made the file. */
  device: z.string(),
  entries: z.array(ManifestEntry),
  /** Where each device's chain begins and ends in this file, so that a cut end is seen. */
  chains: z.array(
    z.object({
      device: z.string(),
      first: z.string(),
      last: z.string(),
      /** Hash of the last event. */
      head: Hash,
      events: z.number().int().positive(),
      /** Nothing of the chain is left out. */
      whole: z.boolean(),
    }),
  ),
});
export type Manifest = z.infer<typeof Manifest>;

export const BackupFormat: Format<typeof Manifest> = {
  name: 'backup',
  version: 1,
  schema: Manifest,
  upcasters: {},
};
