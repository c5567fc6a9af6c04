import { sql } from 'kysely';
import type { SoundName } from '#shared/school';
import { sha256Hex } from '#store/pure';
import type { Blobs } from './blobs.ts';
import type { Clock } from './clock.ts';
import type { Database } from './database.ts';
import { Refused } from './refused.ts';
import type { Caller } from './roles.ts';

/** Pieces named in one answer: a phone sends them one by one. */
const WANTED = 200;

/** What the log of this device names and the school has not got. */
export async function wantedSound(
  { sql: db }: Database,
  caller: Caller,
): Promise<readonly SoundName[]> {
  return db
    .selectFrom('sound')
    .where('school', '=', caller.school)
    .where('device', '=', caller.device)
    .where('kept', 'is', null)
    .where('dropped', 'is', null)
    .select(['recording', 'chunk', 'hash'])
    .orderBy('recording')
    .orderBy('chunk')
    .limit(WANTED)
    .execute();
}

/** Keeps a piece of sound that the device's own log names. Twice is the same as once. */
export async function keepSound(
  { sql: db }: Database,
  blobs: Blobs,
  clock: Clock,
  caller: Caller,
  hash: string,
  bytes: Uint8Array,
): Promise<void> {
  const rows = await db
    .selectFrom('sound')
    .where('school', '=', caller.school)
    .where('device', '=', caller.device)
    .where('hash', '=', hash)
    .select(['kept', 'dropped'])
    .execute();
  if (rows.length === 0)
    throw new Refused(404, 'No event of this device names this sound: send the events first.');
  const dropped = rows.every((row) => row.dropped !== null) ? rows[0]?.dropped : null;
  if (dropped !== null && dropped !== undefined)
    throw new Refused(410, `This sound is not kept: ${dropped}.`);
  if (sha256Hex(bytes) !== hash) throw new Refused(422, 'It is not the sound that the log names.');
  await blobs.put(caller.school, hash, bytes);
  const done = await db
    .updateTable('sound')
    .set({ kept: clock.now(), bytes: bytes.length })
    .where('school', '=', caller.school)
    .where('device', '=', caller.device)
    .where('hash', '=', hash)
    .where('dropped', 'is', null)
    .executeTakeFirst();
  // It was erased while it was being written: what erases deletes before this.
  if (Number(done.numUpdatedRows) === 0) await blobs.remove(caller.school, hash);
}

/** A piece of sound, for those whom the school's terms let hear it. */
export async function hearSound(
  { sql: db }: Database,
  blobs: Blobs,
  caller: Caller,
  hash: string,
): Promise<Uint8Array> {
  const { school, device, person, roles } = caller;
  const { rows } = await sql<{ dropped: string | null; kept: number | null; may: boolean }>`
    select s.dropped, s.kept, coalesce(
      s.device = ${device}
      or (${person}::text is not null and (w.pilot_id = ${person} or w.instructor_id = ${person}))
      or (${roles.has('instructor')} and c.terms->'hear' ? 'instructor'
        and w.pilot_id in (select student from teaches t
          where t.school = ${school} and t.instructor = ${person}))
      or (${roles.has('chief')} and c.terms->'hear' ? 'chief'), false) as may
    from sound s join school c on c.id = s.school
    left join walk w on w.school = s.school and w.id = s.walk
    where s.school = ${school} and s.hash = ${hash}`.execute(db);
  // Who may not hear it is not told whether it is there.
  const found = rows.find((row) => row.may);
  if (found === undefined)
    throw new Refused(404, 'There is no such sound here, or it is not for you to hear.');
  if (found.dropped !== null) throw new Refused(410, `This sound is not kept: ${found.dropped}.`);
  const bytes = found.kept === null ? null : await blobs.get(school, hash);
  if (bytes === null) throw new Refused(404, 'This sound has not been sent yet.');
  if (sha256Hex(bytes) !== hash)
    throw new Refused(500, 'The school’s disk gave back other bytes than it was given.');
  return bytes;
}
