import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import canonicalize from 'canonicalize';
import { z } from 'zod';
import { readAs, type Format, type Read } from '#shared/format';
import { PhrasebookFile } from '#shared/phrasebook-file';
import { MAX_CHARACTERS } from '../limits.ts';

/** The name of the format inside the file: what tells it from a catalogue written as JSON. */
export const PARCEL = 'talkround-catalogue';
/** At most so many aircraft of one catalogue: a school has some tens. */
const MOST_AIRCRAFT = 500;
/**
 * Characters of the whole file: three times the longest catalogue, since escapes
 * make a text longer in JSON than it is, and as much again for what was learned.
 */
const LONGEST_PARCEL = MAX_CHARACTERS * 6;

/** A catalogue as it is given away: one file, signed by the device that made it. */
export const Parcel = z.strictObject({
  format: z.literal(PARCEL),
  v: z.literal(2),
  /** Milliseconds since 1970. */
  made: z.number(),
  /** Who gives it, as they call themselves. The key says whose device it is. */
  by: z.string().max(200),
  /** SHA-256 of the catalogue in its full form. */
  edition: z.string().regex(/^[0-9a-f]{64}$/),
  /** The author's YAML, comments and all. */
  text: z.string().max(MAX_CHARACTERS),
  /** Aircraft that are walked by it, by registration. */
  aircraft: z.array(z.string().trim().min(1).max(80)).max(MOST_AIRCRAFT),
  /** What was learned on these aircraft, where its giver said so: it names people. */
  phrasebooks: z.array(PhrasebookFile).max(MOST_AIRCRAFT),
  /** Public key of the device, Ed25519 (RFC 8032), base64url. */
  key: z.string().max(100),
  /** Signature over the 32 bytes of `parcelHash`, base64url. */
  signature: z.string().max(200),
});
export type Parcel = z.infer<typeof Parcel>;

const ParcelFormat: Format<typeof Parcel> = {
  name: 'catalogue file',
  version: 2,
  schema: Parcel,
  upcasters: { 1: (old) => ({ ...old, v: 2, phrasebooks: [] }) },
};

/** SHA-256, hex, of the RFC 8785 form of everything but the signature, in the format that was signed. */
export function parcelHash(parcel: Readonly<Record<string, unknown>>): string {
  const rest: Record<string, unknown> = { ...parcel };
  delete rest['signature'];
  const text = canonicalize(rest);
  if (text === undefined) throw new TypeError('A catalogue file has to be an object.');
  return bytesToHex(sha256(utf8ToBytes(text)));
}

/** Whether some JSON says that it is a given catalogue, of whatever version. */
export function isParcel(text: string): boolean {
  return (
    new RegExp(`"format"\\s*:\\s*"${PARCEL}"`).test(text.slice(0, 2000)) ||
    text.includes(`"format":"${PARCEL}"`)
  );
}

/** What a file says, and the hash that its signature has to be of. */
export type ReadParcel =
  | { readonly ok: true; readonly value: Parcel; readonly hash: string }
  | { readonly ok: false; readonly error: string };

/** Reads a given catalogue. Never throws; what is wrong is one sentence. The signature is checked by the caller. */
export function readParcel(text: string): ReadParcel {
  if (text.length > LONGEST_PARCEL)
    return {
      ok: false,
      error: `This file has ${text.length} characters; a catalogue file has at most ${LONGEST_PARCEL}.`,
    };
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return {
      ok: false,
      error:
        'This catalogue file is not whole: it may have been cut off on the way. Ask for it again.',
    };
  }
  const read: Read<Parcel> = readAs(ParcelFormat, value);
  if (!read.ok) return read;
  const stray = read.value.phrasebooks.find((b) => !read.value.aircraft.includes(b.aircraft));
  if (stray !== undefined)
    return {
      ok: false,
      error: `This catalogue file has what was learned on ${stray.aircraft}, and that is none of its aircraft. Ask for it again.`,
    };
  // Of what stands in the file: an older format is signed in its own form.
  return { ...read, hash: parcelHash(value as Record<string, unknown>) };
}

/** A key in a form that two people can compare over the telephone: "a1b2 c3d4 e5f6". */
export function keyWords(key: string): string {
  const hex = bytesToHex(sha256(utf8ToBytes(key))).slice(0, 12);
  return (hex.match(/.{4}/g) ?? []).join(' ');
}
