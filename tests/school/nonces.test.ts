import { sql } from 'kysely';
import { afterAll, beforeAll, expect, test } from 'vitest';
import {
  forgetNonces,
  keepNonce,
  NONCE_SLOTS,
  PROOF_LASTS,
  RATE_WINDOW,
} from '../../src/school/nonces.ts';
import { schoolStage, STARTING, type Stage } from './stage.ts';

let stage: Stage;
beforeAll(async () => {
  stage = await schoolStage();
}, STARTING);
afterAll(() => stage.close());

const START = 1_800_000_000_000;
const count = async (): Promise<number> =>
  (
    await sql<{ n: number }>`select count(*)::int as n from nonce where school = 'n'`.execute(
      stage.database.sql,
    )
  ).rows[0]?.n ?? 0;
const keep = (nonce: string, at: number, now = at, who = 'phone') =>
  keepNonce(stage.database, { school: 'n', who, nonce, at }, now);

test('19: a request is the first of its kind once, for as long as it is good, whatever is swept meanwhile', async () => {
  const lasts: string[] = [];
  for (let at = START; at < START + 16 * PROOF_LASTS; at += 17_000) {
    const nonce = `n-${at}`;
    // It arrives as early or as late as it may.
    for (const off of [-PROOF_LASTS, 0, PROOF_LASTS]) {
      const who = `device ${off}`;
      expect((await keep(nonce, at, at + off, who)).fresh).toBe(true);
      for (const later of [-PROOF_LASTS, 0, 1_000, PROOF_LASTS]) {
        await forgetNonces(stage.database, at + later);
        expect([nonce, off, later, (await keep(nonce, at, at + later, who)).fresh]).toEqual([
          nonce,
          off,
          later,
          false,
        ]);
      }
    }
    lasts.push(nonce);
  }
  expect(lasts.length).toBeGreaterThan(100);
});

test('19: what is old is dropped with its table, and the tables stay small', async () => {
  await sql`truncate nonce`.execute(stage.database.sql);
  let most = 0;
  const each = 10_000;
  for (let at = START; at < START + 40 * PROOF_LASTS; at += each) {
    await keep(`m-${at}`, at);
    await forgetNonces(stage.database, at);
    most = Math.max(most, await count());
  }
  // Never more than what came in the time of all tables together.
  expect(most).toBeLessThanOrEqual((NONCE_SLOTS * 2 * PROOF_LASTS) / each);
  expect(most).toBeGreaterThan(PROOF_LASTS / each);
});

test('19: requests are counted over the border between two tables, and only the late ones', async () => {
  const border = Math.ceil(START / (2 * PROOF_LASTS)) * 2 * PROOF_LASTS;
  for (let n = 0; n < 6; n += 1)
    await keep(`b-${n}`, border - 3_000 + n * 1_000, border - 3_000 + n * 1_000, 'eager');
  expect((await keep('b-last', border + 3_000, border + 3_000, 'eager')).before).toBe(6);
  const later = border + 3_000 + RATE_WINDOW + 1;
  expect((await keep('b-later', later, later, 'eager')).before).toBe(0);
});
