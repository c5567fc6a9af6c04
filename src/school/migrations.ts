import { Migrator, sql, type Kysely, type Migration } from 'kysely';
import { STORE_MIGRATIONS } from './migrate-store.ts';
import { PEOPLE } from './migrations-people.ts';

/** Each step once, in the order of its name; a step that was given out is never changed. */
const MIGRATIONS: Readonly<Record<string, Migration>> = {
  '0001-school': {
    async up(db) {
      for (const statement of SCHOOL) await sql.raw(statement).execute(db);
    },
  },
  '0002-people': {
    async up(db) {
      for (const statement of PEOPLE) await sql.raw(statement).execute(db);
    },
  },
  ...STORE_MIGRATIONS,
};

/**
 * Brings the tables up to date; several servers may do it at once. Throws what the database says.
 *
 * @param to the last step; left out: all of them
 */
export async function migrate<T>(db: Kysely<T>, to?: string): Promise<void> {
  const migrator = new Migrator({
    db,
    provider: { getMigrations: async () => ({ ...MIGRATIONS }) },
  });
  const { error } = await (to === undefined ? migrator.migrateToLatest() : migrator.migrateTo(to));
  if (error !== undefined) throw error;
}

const SCHOOL = [
  `create table school (
    id text primary key, name text not null, terms jsonb not null,
    seq bigint not null default 0, epoch integer not null default 0,
    device text not null, public_key text not null, secret text not null, head text,
    made bigint not null)`,
  `create table person (
    school text not null references school, id text not null, name text not null,
    roles text[] not null, voice boolean not null default true,
    since bigint not null, gone bigint, primary key (school, id))`,
  `create unique index person_name on person (school, lower(name)) where gone is null`,
  `create table teaches (
    school text not null, instructor text not null, student text not null,
    primary key (school, instructor, student),
    foreign key (school, instructor) references person, foreign key (school, student) references person)`,
  `create table device (
    school text not null references school, id text not null, public_key text not null,
    name text not null, person text, desk boolean not null, joined bigint not null,
    until bigint, shut bigint, shut_by text, head text, walk text,
    events bigint not null default 0, seen bigint, editions jsonb not null,
    primary key (school, id), foreign key (school, person) references person)`,
  `create unique index device_key on device (school, public_key)`,
  `create table invitation (
    school text not null references school, code text primary key, person text,
    made_by text not null, made bigint not null, expires bigint not null, used bigint, device text)`,
  `create table asking (
    school text not null references school, code text primary key, device text not null,
    public_key text not null, name text not null, expires bigint not null, used bigint)`,
  `create table event (
    school text not null, seq bigint not null, hash text not null, id text not null,
    device text not null, walk text, within text, aircraft text, kind text not null,
    prev text, text text not null, arrived bigint not null, aside text,
    primary key (school, seq))`,
  // The same event twice is the same row: a hash is written once.
  `create unique index event_hash on event (school, hash)`,
  `create unique index event_id on event (school, id) where aside is null`,
  `create index event_device on event (school, device, seq)`,
  `create index event_prev on event (school, device, prev)`,
  `create index event_walk on event (school, walk, seq)`,
  `create index event_within on event (school, within, seq) where walk is null`,
  `create index event_squawk on event (school, seq) where kind = 'squawk'`,
  `create table walk (
    school text not null, id text not null, device text not null, aircraft text not null,
    catalogue text not null, edition text not null, pilot text, instructor text,
    pilot_id text, instructor_id text, begun bigint not null, last bigint not null,
    events integer not null, station text, finished boolean not null, signed boolean not null,
    primary key (school, id))`,
  `create index walk_latest on walk (school, begun desc, id desc)`,
  `create index walk_device on walk (school, device)`,
  `create index walk_pilot on walk (school, pilot_id)`,
  `create index walk_instructor on walk (school, instructor_id)`,
  `create table sound (
    school text not null, recording text not null, chunk integer not null, hash text not null,
    device text not null, walk text, mime text not null, kept bigint, bytes bigint, dropped text,
    primary key (school, recording, chunk))`,
  `create index sound_hash on sound (school, hash)`,
  `create index sound_wanted on sound (school, device) where kept is null and dropped is null`,
  `create index sound_walk on sound (school, walk)`,
  `create index sound_kept on sound (school, kept) where kept is not null and dropped is null`,
  `create table catalogue (
    school text not null references school, edition text not null, catalogue text not null,
    name text not null, number integer not null, text text not null, added bigint not null,
    added_by text not null, current boolean not null, primary key (school, edition))`,
  `create table nonce (
    school text not null, who text not null, nonce text not null, at bigint not null,
    primary key (school, who, nonce))`,
  `create index nonce_at on nonce (at)`,
  `create table refusal (
    school text not null, id text not null, at bigint not null, device text not null,
    event text not null, walk text, why text not null, primary key (school, id))`,
  `create unique index refusal_once on refusal (school, device, event, md5(why))`,
  `create table deed (
    school text not null, id text not null, at bigint not null, by text not null,
    kind text not null, of text not null, primary key (school, id))`,
];
