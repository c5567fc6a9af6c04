import { sql, type Kysely, type Migration } from 'kysely';
import { NONCE_SLOTS } from './nonces.ts';

/**
 * Steps of what is kept beside the log: pictures, deletions that wait for a store
 * that is away, and the requests that were seen.
 */
export const STORE_MIGRATIONS: Readonly<Record<string, Migration>> = {
  '0002-store-pictures': {
    async up(db) {
      for (const statement of PICTURES) await sql.raw(statement).execute(db);
      await nameOldPictures(db);
    },
  },
  '0003-store-nonces': {
    async up(db) {
      for (const statement of NONCES) await sql.raw(statement).execute(db);
    },
  },
};

const PICTURES = [
  // A picture lies like a recording of one piece. `named` is the number of the event
  // that names it, `squawk` the one that shows it to everybody.
  `alter table sound add column picture boolean not null default false,
    add column statement text, add column squawk text, add column named bigint`,
  `create index sound_statement on sound (school, walk, statement) where picture`,
  // Which squawk the pictures of a statement are shown with, whichever came first.
  `create table picture_squawk (
    school text not null, walk text not null, statement text not null, squawk text not null,
    primary key (school, walk, statement))`,
  // A picture is kept for as long as its squawk is open.
  `create table squawk_settled (
    school text not null, squawk text not null, primary key (school, squawk))`,
  // Where in the feed an event about a picture becomes everybody's: with itself, or
  // with the squawk that was written up after it.
  `create table picture_shown (
    school text not null, seq bigint not null, event bigint not null,
    primary key (school, seq, event))`,
  // What is to be deleted where bytes lie: the store may be away when it is erased.
  `create table unkept (school text not null, hash text not null, primary key (school, hash))`,
];

/**
 * A request that was seen lies in one of a few tables by its own time, so that what
 * is old is dropped with its table. Nothing is moved: what was sent in the four
 * minutes before is known for as long as it is good by the time that it carries.
 */
const NONCES = [
  `drop table nonce`,
  `create table nonce (
    slot smallint not null, school text not null, who text not null, nonce text not null,
    at bigint not null, primary key (slot, school, who, nonce)) partition by list (slot)`,
  ...Array.from(
    { length: NONCE_SLOTS },
    (_, slot) => `create table nonce_${slot} partition of nonce for values in (${slot})`,
  ),
];

const SETTLED: ReadonlySet<string> = new Set(['rectified', 'withdrawn', 'closed', 'joined']);

interface OldEvent {
  readonly school: string;
  readonly seq: number;
  readonly device: string;
  readonly walk: string | null;
  readonly text: string;
}

/** Pictures whose events came before their bytes could: from now on they are asked for. Also for a backup of that time. */
export async function nameOldPictures<T>(db: Kysely<T>): Promise<void> {
  const { rows } = await sql<OldEvent>`
    select school, seq, device, walk, text from event
    where kind = 'picture-kept' and aside is null order by school, seq`.execute(db);
  const { rows: erased } = await sql<Pick<OldEvent, 'school' | 'text'>>`
    select school, text from event where kind = 'picture-erased' and aside is null`.execute(db);
  const gone = new Set(erased.map((e) => `${e.school} ${wordIn(e.text, 'picture')}`));
  for (const { school, seq, device, walk, text } of rows) {
    const picture = wordIn(text, 'picture');
    const dropped = gone.has(`${school} ${picture}`) ? 'erased' : null;
    await sql`
      insert into sound (school, recording, chunk, hash, device, walk, mime, picture, statement,
        squawk, named, dropped)
      values (${school}, ${picture}, 0, ${wordIn(text, 'hash')}, ${device}, ${walk},
        ${wordIn(text, 'mime')}, true, ${ofIn(text, 'statement')}, ${ofIn(text, 'squawk')}, ${seq},
        ${dropped}) on conflict do nothing`.execute(db);
  }
  const { rows: steps } = await sql<OldEvent>`
    select school, seq, device, walk, text from event
    where kind = 'squawk' and aside is null order by school, seq`.execute(db);
  for (const { school, walk, text } of steps) {
    const step = field(whatIn(text), 'step');
    if (SETTLED.has(String(field(step, 'step'))))
      await sql`insert into squawk_settled (school, squawk)
        values (${school}, ${wordIn(text, 'squawk')}) on conflict do nothing`.execute(db);
    const statement = field(step, 'statement');
    if (walk === null || typeof statement !== 'string') continue;
    await sql`insert into picture_squawk (school, walk, statement, squawk)
      values (${school}, ${walk}, ${statement}, ${wordIn(text, 'squawk')})
      on conflict do nothing`.execute(db);
  }
  await sql`update sound set squawk = p.squawk from picture_squawk p
    where p.school = sound.school and p.walk = sound.walk and p.statement = sound.statement
      and sound.picture and sound.squawk is null`.execute(db);
  // Everybody asks from the beginning, so they are shown where they stand.
  await sql`insert into picture_shown (school, seq, event)
    select school, named, named from sound where picture and squawk is not null`.execute(db);
  if (rows.length > 0)
    await sql`update school set epoch = epoch + 1
      where id in (select school from sound where picture)`.execute(db);
}

function field(of: unknown, name: string): unknown {
  return typeof of === 'object' && of !== null ? Reflect.get(of, name) : undefined;
}

const whatIn = (text: string): unknown => field(JSON.parse(text), 'what');

function wordIn(text: string, name: string): string {
  const word = field(whatIn(text), name);
  return typeof word === 'string' ? word : '';
}

function ofIn(text: string, name: string): string | null {
  const word = field(field(whatIn(text), 'of'), name);
  return typeof word === 'string' ? word : null;
}
