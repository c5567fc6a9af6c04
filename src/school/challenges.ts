import { sha256Hex, toBase64Url } from '#store/pure';
import type { Clock } from './clock.ts';
import type { Database } from './database.ts';
import { Refused } from './refused.ts';

/**
 * How long a challenge is good, milliseconds. Shorter: who looks for their
 * security key is refused and tries again. Longer: a page that stands open in an
 * empty office can be answered by the next one.
 */
export const CHALLENGE_LASTS = 2 * 60_000;

/** Whose challenge it is: an answer to another's is none. */
export interface ChallengeOf {
  readonly school: string;
  readonly kind: 'sign-in' | 'new-passkey';
  readonly device: string;
  /** The key of that device. */
  readonly publicKey: string;
  /** Who adds a passkey; null: nobody is known yet. */
  readonly person: string | null;
  readonly party: string;
}

const hashOf = (challenge: string) => sha256Hex(`talkround challenge ${challenge}`);

/** A fresh challenge, kept as its hash. */
export async function challengeFor(
  { sql: db }: Database,
  clock: Clock,
  of: ChallengeOf,
): Promise<Uint8Array<ArrayBuffer>> {
  const bytes = Uint8Array.from(clock.bytes(32));
  const { publicKey, ...rest } = of;
  await db
    .insertInto('challenge')
    .values({
      ...rest,
      public_key: publicKey,
      hash: hashOf(toBase64Url(bytes)),
      expires: clock.now() + CHALLENGE_LASTS,
      used: null,
    })
    .execute();
  return bytes;
}

/** Spends a challenge, whatever comes of the answer. Throws `Refused` when it is another's, too old or spent. */
export async function spend(
  { sql: db }: Database,
  clock: Clock,
  challenge: string,
  of: ChallengeOf,
): Promise<void> {
  const row = await db
    .updateTable('challenge')
    .set({ used: clock.now() })
    .where('hash', '=', hashOf(challenge))
    .where('school', '=', of.school)
    .where('kind', '=', of.kind)
    .where('device', '=', of.device)
    .where('public_key', '=', of.publicKey)
    .where('party', '=', of.party)
    .where('person', of.person === null ? 'is' : '=', of.person)
    .where('used', 'is', null)
    .where('expires', '>', clock.now())
    .returning('hash')
    .executeTakeFirst();
  if (row === undefined)
    throw new Refused(
      403,
      'This attempt is over: it took longer than two minutes, or it was used before. Try again.',
    );
}

/** What can no longer be answered. */
export async function forgetChallenges({ sql: db }: Database, now: number): Promise<void> {
  await db.deleteFrom('challenge').where('expires', '<', now).execute();
}
