import { createPublicKey, verify } from 'node:crypto';
import type { Proof } from '#shared/school';
import { fromBase64Url, proofHash } from '#store/pure';
import type { Database } from './database.ts';
import { keepNonce, PROOF_LASTS, RATE_WINDOW, type Seen } from './nonces.ts';
import { Refused } from './refused.ts';
import type { Caller } from './roles.ts';

export { PROOF_LASTS } from './nonces.ts';

/**
 * Requests of one device within `RATE_WINDOW` milliseconds. A phone sends about
 * one a second at most while it brings up a day's sound. Fewer: an honest phone
 * waits. More: one broken phone keeps a small server busy.
 */
export const RATE = 300;
/** Guesses at codes from one address within the window. */
export const GUESSES = 20;

/** What stands in the Authorization header, read and not yet believed. */
export interface Claimed extends Proof {
  readonly signature: string;
}

const FORM =
  /^Talkround school="([\w-]{0,40})", device="([\w-]{1,80})", at="(\d{1,16})", nonce="([\w-]{8,64})", body="([0-9a-f]{64})", signature="([\w-]{86})"$/;

/** Reads the header; throws `Refused` when there is none or it is none of ours. */
export function claimed(header: string | undefined, method: string, path: string): Claimed {
  const parts = FORM.exec(header ?? '');
  if (parts === null)
    throw new Refused(401, 'This request is not signed by a device of this school.');
  const [, school = '', device = '', at = '', nonce = '', body = '', signature = ''] = parts;
  return { school, device, at: Number(at), nonce, method, path, body, signature };
}

/** Throws `Refused` for a request of another time than the school's. */
export function inTime(claim: Claimed, now: number): void {
  if (Math.abs(now - claim.at) > PROOF_LASTS)
    throw new Refused(401, 'The time of this request is not the time of the school.', {
      'X-Talkround-Clock': 'off',
    });
}

/** Throws `Refused` unless the key has signed exactly this request, now. */
export function holds(claim: Claimed, publicKey: string, now: number): void {
  inTime(claim, now);
  const { signature, ...proof } = claim;
  if (!signed(publicKey, signature, proofHash(proof)))
    throw new Refused(401, 'The signature of this request does not hold.');
}

/** Node's own Ed25519: twenty times as fast as the one that also runs in a browser. */
function signed(publicKey: string, signature: string, hash: string): boolean {
  const sign = fromBase64Url(signature);
  if (fromBase64Url(publicKey)?.length !== 32 || sign?.length !== 64) return false;
  try {
    const key = createPublicKey({
      key: { kty: 'OKP', crv: 'Ed25519', x: publicKey },
      format: 'jwk',
    });
    return verify(null, Buffer.from(hash, 'hex'), key, sign);
  } catch {
    return false;
  }
}

/** Once only, and not too often. Throws `Refused` otherwise. Only for a request that is `inTime`. */
export async function onceAndSlowly(
  database: Database,
  seen: Seen,
  now: number,
  most = RATE,
): Promise<void> {
  const { fresh, before } = await keepNonce(database, seen, now);
  if (!fresh)
    throw new Refused(401, 'This request was sent before: the school takes each one once.');
  if (before >= most)
    throw new Refused(429, 'Too many requests at once: wait ten seconds, then go on.', {
      'Retry-After': String(RATE_WINDOW / 1000),
    });
}

/** Who signed this request. Throws `Refused` with a sentence that the device shows. */
export async function callerOf(
  database: Database,
  claim: Claimed,
  now: number,
  most?: number,
): Promise<Caller> {
  const row = await database.sql
    .selectFrom('device')
    .leftJoin('person', (join) =>
      join.onRef('person.school', '=', 'device.school').onRef('person.id', '=', 'device.person'),
    )
    .where('device.school', '=', claim.school)
    .where('device.id', '=', claim.device)
    .select([
      'device.public_key',
      'device.desk',
      'device.person',
      'device.until',
      'device.shut',
      'device.walk',
      'device.editions',
      'person.name',
      'person.roles',
      'person.gone',
    ])
    .executeTakeFirst();
  if (row === undefined)
    throw new Refused(
      401,
      'This school does not know this device. Join it with a code from the desk.',
    );
  // Before anything about the device is told: only who holds its key is told it.
  holds(claim, row.public_key, now);
  await onceAndSlowly(database, { ...claim, who: claim.device }, now, most);
  if (row.shut !== null)
    throw new Refused(403, 'This device was shut out of the school. Ask at the desk.');
  if (row.gone !== null && row.gone !== undefined)
    throw new Refused(403, 'Whoever this device belongs to has left the school. Ask at the desk.');
  if (row.until !== null && row.until <= now)
    throw new Refused(403, 'This desk was signed out. Sign in again.');
  return {
    school: claim.school,
    device: claim.device,
    publicKey: row.public_key,
    desk: row.desk,
    person: row.person,
    personName: row.name,
    // A phone that is shared is a pilot's.
    roles: new Set(row.person === null ? ['pilot'] : (row.roles ?? [])),
    walk: row.walk,
    editions: row.editions,
  };
}
