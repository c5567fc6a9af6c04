import { sql } from 'kysely';
import type { Database } from './database.ts';

/**
 * How far the time of a request may be from the server's, milliseconds. Shorter:
 * a phone on a slow network is refused and asks again. Longer: what somebody
 * copied stays good for longer, should it not have arrived yet.
 */
export const PROOF_LASTS = 120_000;

/** How much time one table of requests is for, milliseconds: as much as a request may be off either way. */
const SLOT_LASTS = 2 * PROOF_LASTS;

/**
 * Tables that take turns. Those around now are in use, three at most; the one that
 * is left is emptied whole, which costs the same for one row and for a million.
 */
export const NONCE_SLOTS = 4;

const turnOf = (at: number) => Math.floor(at / SLOT_LASTS);
const slotOf = (turn: number) => ((turn % NONCE_SLOTS) + NONCE_SLOTS) % NONCE_SLOTS;

/** Requests are counted within so many milliseconds. */
export const RATE_WINDOW = 10_000;

export interface Seen {
  readonly school: string;
  readonly who: string;
  readonly nonce: string;
  /** The time that the request carries: its repetition carries the same, and is looked for in the same table. */
  readonly at: number;
}

/**
 * Keeps a request, and says whether it is the first of its kind and how many came
 * from the same shortly before. One statement, in the database, so that it holds
 * for however many servers stand behind one address.
 */
export async function keepNonce(
  { sql: db }: Database,
  { school, who, nonce, at }: Seen,
  now: number,
): Promise<{ readonly fresh: boolean; readonly before: number }> {
  const around = [-1, 0, 1].map((n) => sql.lit(slotOf(turnOf(now) + n)));
  const { rows } = await sql<{ fresh: number; before: number }>`
    with put as (
      insert into nonce (slot, school, who, nonce, at)
      values (${slotOf(turnOf(at))}, ${school}, ${who}, ${nonce}, ${now})
      on conflict do nothing returning 1)
    select (select count(*)::int from put) as fresh,
      (select count(*)::int from nonce where slot in (${sql.join(around)})
        and school = ${school} and who = ${who} and at > ${now - RATE_WINDOW}) as before
  `.execute(db);
  const [found] = rows;
  return { fresh: found?.fresh === 1, before: found?.before ?? 0 };
}

/** Empties the table whose time is over: no request that is in it is good any more. */
export async function forgetNonces({ sql: db }: Database, now: number): Promise<void> {
  const table = sql.table(`nonce_${slotOf(turnOf(now) + 2)}`);
  // Another server's clock may be ahead: what came lately stays.
  const { rows } = await sql<{
    latest: number | null;
  }>`select max(at) as latest from ${table}`.execute(db);
  const latest = rows[0]?.latest ?? null;
  if (latest !== null && latest < now - SLOT_LASTS) await sql`truncate ${table}`.execute(db);
}
