import { z } from 'zod';
import type { Format } from '#shared/format';
import { Instant } from '#shared/instant';
import { canonical, sha256Hex } from './canonical.ts';
import { sealHolds, type SealKey } from './seal.ts';

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
  z.object({
    kind: z.literal('picture'),
    path: z.string(),
    bytes: Size,
    sha256: Hash,
    picture: z.string(),
    mime: z.string(),
  }),
]);
export type ManifestEntry = z.infer<typeof ManifestEntry>;

export const Manifest = z.object({
  format: z.literal('talkround-backup'),
  v: z.literal(1),
  /** Milliseconds since 1970. */
  made: Instant,
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
  /** How many events of each walk are in the file, so that a cut walk can be named. Older files do not say. */
  walks: z
    .array(z.object({ walk: z.string(), device: z.string(), events: z.number().int().positive() }))
    .optional(),
  /** Sound and pictures that the log names and that whoever made the file did not put in. */
  without: z
    .array(z.object({ recording: z.string(), chunks: z.array(z.number().int().nonnegative()) }))
    .optional(),
  /**
   * Signature of the device that made the file over the SHA-256 of the RFC 8785
   * form of {manifest}, which is this without the field `signed`.
   */
  signed: z
    .object({ publicKey: z.string(), signature: z.string(), name: z.string().nullable() })
    .optional(),
});
export type Manifest = z.infer<typeof Manifest>;

export const BackupFormat: Format<typeof Manifest> = {
  name: 'backup',
  version: 1,
  schema: Manifest,
  upcasters: {},
};

const MANIFEST_SEAL = 'talkround manifest 1';

function signedForm(manifest: Record<string, unknown>, name: string | null): string {
  const rest = { ...manifest };
  delete rest['signed'];
  return sha256Hex(canonical({ seal: MANIFEST_SEAL, name, manifest: rest }));
}

export async function signManifest(
  manifest: Manifest,
  key: SealKey,
  name: string | null,
): Promise<Manifest> {
  const signature = await key.sign(signedForm(manifest, name));
  return { ...manifest, signed: { publicKey: key.publicKey, signature, name } };
}

/** Who signed a manifest as it was read. Never throws. */
export type ManifestSign =
  | { readonly kind: 'none' }
  | { readonly kind: 'broken' }
  | { readonly kind: 'holds'; readonly publicKey: string; readonly name: string | null };

/** @param raw as it stood in the file, before it was read through its format */
export function manifestSign(raw: unknown, { signed }: Manifest): ManifestSign {
  if (signed === undefined) return { kind: 'none' };
  const { publicKey, signature, name } = signed;
  if (typeof raw !== 'object' || raw === null) return { kind: 'broken' };
  try {
    const hash = signedForm({ ...raw }, name);
    return sealHolds(publicKey, signature, hash)
      ? { kind: 'holds', publicKey, name }
      : { kind: 'broken' };
  } catch {
    return { kind: 'broken' };
  }
}
