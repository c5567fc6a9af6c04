import { createHash } from 'node:crypto';
import { BlobWriter, Uint8ArrayReader, ZipWriter } from '@zip.js/zip.js/index-native.js';
import { MANIFEST } from '../../src/store/manifest.ts';

/** A file for a made-up zip. */
export type Piece = {
  readonly path: string;
  readonly data: Uint8Array;
};

export const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);

/** Any zip at all. `level` 9 packs, which our own backups never do. */
export async function zipOf(pieces: readonly Piece[], level = 0): Promise<Uint8Array> {
  const zip = new ZipWriter(new BlobWriter(), { level, useWebWorkers: false });
  for (const { path, data } of pieces) await zip.add(path, new Uint8ArrayReader(data));
  return new Uint8Array(await (await zip.close()).arrayBuffer());
}

/** A zip with a manifest that names its entries truthfully. */
export async function backupOf(
  entries: readonly (Piece & Record<string, unknown>)[],
  level = 0,
  manifest: Record<string, unknown> = {},
): Promise<Uint8Array> {
  const whole = {
    format: 'talkround-backup',
    v: 1,
    made: 0,
    device: 'other',
    entries: entries.map(({ data, ...fields }) => ({
      ...fields,
      bytes: data.length,
      sha256: createHash('sha256').update(data).digest('hex'),
    })),
    chains: [],
    ...manifest,
  };
  return zipOf([...entries, { path: MANIFEST, data: utf8(JSON.stringify(whole)) }], level);
}
