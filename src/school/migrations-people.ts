const TABLES = [
  `create table passkey (
    school text not null, id text not null, credential text not null, person text not null,
    public_key text not null, counter bigint not null, party text not null, name text not null,
    added bigint not null, added_by text not null, used bigint, shut bigint,
    copied boolean not null default false,
    primary key (school, id), foreign key (school, person) references person)`,
  `create unique index passkey_credential on passkey (school, credential)`,
  `create index passkey_person on passkey (school, person)`,
  `create table challenge (
    school text not null references school, hash text primary key, kind text not null,
    device text not null, public_key text not null, person text, party text not null,
    expires bigint not null, used bigint)`,
  `create index challenge_expires on challenge (expires)`,
  // By which passkey a desk was signed in: with it, the desk goes.
  `alter table device add column passkey text`,
  `create table aircraft (
    school text not null references school, id text not null, name text not null,
    key text not null, catalogue text not null, added bigint not null, retired bigint,
    primary key (school, id))`,
  `create unique index aircraft_key on aircraft (school, key)`,
  `create table aircraft_was (
    school text not null, key text not null, name text not null, aircraft text not null,
    until bigint not null, primary key (school, key),
    foreign key (school, aircraft) references aircraft)`,
  `create index walk_aircraft on walk (school, aircraft, begun desc)`,
  `create table phrase (
    school text not null references school, id text not null, seq bigint not null,
    aircraft text not null, speaker text, person text, device text not null, text text,
    forgotten bigint, erased bigint, primary key (school, id))`,
  `create index phrase_seq on phrase (school, seq)`,
  `create index phrase_person on phrase (school, person)`,
];

/**
 * What was learned, out of a log of before, and terms that said nothing of it: of
 * tables that are brought up to date, and of a backup of that time.
 */
export const OLD_LEARNED: readonly string[] = [
  // What the log holds already. What has a letter that no database takes stays in the log alone.
  `insert into phrase (school, id, seq, aircraft, speaker, person, device, text, forgotten, erased)
    select distinct on (e.school, l.learned->>'id')
      e.school, l.learned->>'id', e.seq, e.aircraft, l.learned->>'speaker',
      (select p.id from person p where p.school = e.school and p.gone is null
        and lower(p.name) = lower(trim(l.learned->>'speaker'))),
      e.device, (jsonb_build_object('at', e.at) || l.learned)::text, null, null
    from (select school, seq, aircraft, device, text, text::jsonb->'at' as at from event
        where kind = 'learned' and aside is null and aircraft is not null
          and text not like '%\\\\u0000%') e,
      lateral (select e.text::jsonb->'what'->'learned' as learned) l
    where jsonb_typeof(l.learned->'id') = 'string'
    order by e.school, l.learned->>'id', e.seq`,
  `update phrase set forgotten = g.at, seq = g.seq
    from (select distinct on (e.school, e.device, e.learned)
        e.school, e.device, e.learned, e.at, e.seq, e.undone
      from (select school, device, seq, text::jsonb->'what'->>'learned' as learned,
          (text::jsonb->>'at')::numeric::bigint as at,
          coalesce((text::jsonb->'what'->>'undone')::boolean, false) as undone
        from event where kind = 'unlearned' and aside is null and text not like '%\\\\u0000%') e
      order by e.school, e.device, e.learned, e.seq desc) g
    where g.school = phrase.school and g.device = phrase.device and g.learned = phrase.id
      and not g.undone`,
  `update school set terms = terms || '{"phrases": "own"}'::jsonb where not (terms ? 'phrases')`,
];

/**
 * Passkeys, the list of aircraft, and what was learned. Schools that were founded
 * before pass on what somebody taught to that person's own devices, and to
 * nobody else, until their chief says otherwise.
 */
export const PEOPLE: readonly string[] = [...TABLES, ...OLD_LEARNED];
