import { sql } from 'kysely';
import type { PieceName, PiecesTaken } from '#shared/school';
import { MAX_PICTURE_BYTES } from '#shared/picture';
import { sha256Hex } from '#store/pure';
import type { Blobs } from './blobs.ts';
import type { Clock } from './clock.ts';
import type { Database } from './database.ts';
import type { Piece } from './pieces.ts';
import { maySeePicture } from './pictures.ts';
import { Refused } from './refused.ts';
import type { Caller } from './roles.ts';
import { keptByNobody, toDelete } from './unkept.ts';

/** Pieces named in one answer: two minutes of sound a page. */
const WANTED = 64;

/**
 * What the log of this device names and the school has not got: pictures first, then
 * sound, oldest first. Page by page, so that what a device has lost keeps nothing
 * back that it has.
 *
 * @param after cursor of the page before: "PICTURE.CHUNK.RECORDING"
 */
export async function wantedPieces(
  { sql: db }: Database,
  caller: Caller,
  after: string | null,
): Promise<{ readonly wanted: readonly PieceName[]; readonly cursor: string | null }> {
  const parts = after === null ? null : /^([01])\.(\d{1,9})\.([^\0]{0,200})$/su.exec(after);
  if (after !== null && parts === null)
    throw new Refused(400, 'This is no cursor of what is wanted.');
  const [, sound = '0', chunk = '0', recording = ''] = parts ?? [];
  const rows = await db
    .selectFrom('sound')
    .where('school', '=', caller.school)
    .where('device', '=', caller.device)
    .where('kept', 'is', null)
    .where('dropped', 'is', null)
    .$if(parts !== null, (q) =>
      q.where(
        sql<boolean>`(not picture, recording, chunk) > (${sound === '1'}::boolean, ${recording}::text, ${Number(chunk)}::int)`,
      ),
    )
    .select(['recording', 'chunk', 'hash', 'picture'])
    .orderBy('picture', 'desc')
    .orderBy('recording')
    .orderBy('chunk')
    .limit(WANTED + 1)
    .execute();
  const last = rows.length > WANTED ? rows[WANTED - 1] : undefined;
  return {
    wanted: rows.slice(0, WANTED),
    cursor: last === undefined ? null : `${last.picture ? 0 : 1}.${last.chunk}.${last.recording}`,
  };
}

/**
 * Keeps pieces of sound, and pictures, that the device's own log names; each by
 * itself, by its hash. Twice is the same as once, and what was kept of an upload
 * that broke off need not come again.
 */
export async function keepPieces(
  { sql: db }: Database,
  blobs: Blobs,
  clock: Clock,
  caller: Caller,
  pieces: readonly Piece[],
): Promise<PiecesTaken & { readonly news: boolean }> {
  const rows = await db
    .selectFrom('sound')
    .where('school', '=', caller.school)
    .where('device', '=', caller.device)
    .where(
      'hash',
      'in',
      pieces.map((piece) => piece.hash),
    )
    .select(['hash', 'kept', 'dropped', 'picture'])
    .execute();
  const refused: PiecesTaken['refused'] = [];
  const put: Piece[] = [];
  const kept: string[] = [];
  for (const piece of pieces) {
    const here = rows.filter((row) => row.hash === piece.hash);
    const wanted = here.find((row) => row.dropped === null);
    const refuse = (why: string, gone = false) => refused.push({ hash: piece.hash, why, gone });
    if (here.length === 0)
      refuse('No event of this device names this piece: send the events first.');
    else if (wanted === undefined) refuse(`This is not kept: ${here[0]?.dropped}.`, true);
    else if (wanted.picture && piece.bytes.length > MAX_PICTURE_BYTES)
      refuse(`This picture is larger than ${MAX_PICTURE_BYTES} bytes, which is the limit.`);
    else if (sha256Hex(piece.bytes) !== piece.hash)
      refuse('It is not the sound or the picture that the log names.');
    else if (here.every((row) => row.dropped !== null || row.kept !== null)) kept.push(piece.hash);
    else put.push(piece);
  }
  for (const { hash, bytes } of put) await blobs.put(caller.school, hash, bytes);
  const done = await markKept(db, clock, caller, put);
  const stays = new Set(done.map((row) => row.hash));
  // It was erased while it was being written: what erases deletes before this.
  const late = put.map((piece) => piece.hash).filter((hash) => !stays.has(hash));
  await toDelete(db, caller.school, await keptByNobody(db, caller.school, late));
  for (const hash of late) refused.push({ hash, why: 'This is not kept: erased.', gone: true });
  return { kept: [...kept, ...stays], refused, news: done.some((row) => row.picture) };
}

async function markKept(
  db: Database['sql'],
  clock: Clock,
  caller: Caller,
  put: readonly Piece[],
): Promise<readonly { readonly hash: string; readonly picture: boolean }[]> {
  if (put.length === 0) return [];
  const sizes = put.map(({ hash, bytes }) => sql`(${hash}::text, ${bytes.length}::bigint)`);
  const { rows } = await sql<{ hash: string; picture: boolean }>`
    update sound set kept = ${clock.now()}, bytes = sizes.bytes
    from (values ${sql.join(sizes)}) as sizes (hash, bytes)
    where sound.school = ${caller.school} and sound.device = ${caller.device}
      and sound.hash = sizes.hash and sound.dropped is null and sound.kept is null
    returning sound.hash, sound.picture`.execute(db);
  return rows;
}

/** What the school says of bytes of this hash, to whom it is not kept from. */
interface Found {
  readonly dropped: string | null;
  readonly kept: number | null;
}

/** A piece of sound, for those whom the school's terms let hear it. */
export async function hearSound(
  { sql: db }: Database,
  blobs: Blobs,
  caller: Caller,
  hash: string,
): Promise<Uint8Array> {
  const { school, device, person, roles } = caller;
  const { rows } = await sql<Found & { may: boolean }>`
    select s.dropped, s.kept, coalesce(
      s.device = ${device}
      or (${person}::text is not null and (w.pilot_id = ${person} or w.instructor_id = ${person}))
      or (${roles.has('instructor')} and c.terms->'hear' ? 'instructor'
        and w.pilot_id in (select student from teaches t
          where t.school = ${school} and t.instructor = ${person}))
      or (${roles.has('chief')} and c.terms->'hear' ? 'chief'), false) as may
    from sound s join school c on c.id = s.school
    left join walk w on w.school = s.school and w.id = s.walk
    where s.school = ${school} and s.hash = ${hash} and not s.picture`.execute(db);
  // Who may not hear it is not told whether it is there.
  const found = rows.find((row) => row.may);
  if (found === undefined)
    throw new Refused(404, 'There is no such sound here, or it is not for you to hear.');
  return bytesOf(db, blobs, school, hash, found, 'sound');
}

/** A picture, for those who may open its walk, and for everybody when a squawk shows it. */
export async function seePicture(
  { sql: db }: Database,
  blobs: Blobs,
  caller: Caller,
  hash: string,
): Promise<Uint8Array> {
  const { rows } = await sql<Found>`
    select s.dropped, s.kept from sound s
    left join walk w on w.school = s.school and w.id = s.walk
    where s.school = ${caller.school} and s.hash = ${hash} and s.picture
      and ${maySeePicture(caller)} order by s.dropped nulls first`.execute(db);
  const [found] = rows;
  if (found === undefined)
    throw new Refused(404, 'There is no such picture here, or it is not for you to see.');
  return bytesOf(db, blobs, caller.school, hash, found, 'picture');
}

async function bytesOf(
  db: Database['sql'],
  blobs: Blobs,
  school: string,
  hash: string,
  { dropped, kept }: Found,
  word: 'sound' | 'picture',
): Promise<Uint8Array> {
  if (dropped !== null) throw new Refused(410, `This ${word} is not kept: ${dropped}.`);
  if (kept === null) throw new Refused(404, `This ${word} has not been sent yet.`);
  const bytes = await blobs.get(school, hash);
  if (bytes !== null) return bytes;
  // Wanted again, from the device that has it.
  await db
    .updateTable('sound')
    .set({ kept: null, bytes: null })
    .where('school', '=', school)
    .where('hash', '=', hash)
    .execute();
  throw new Refused(
    404,
    `The school has lost this ${word}, and asks the device that it came from for it again.`,
  );
}
