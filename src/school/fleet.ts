import { sql } from 'kysely';
import { ONCE, type Catalogue } from '#shared/catalogue';
import { Event } from '#shared/event';
import { nearLimit } from '#shared/near-limit';
import { placedValues } from '#shared/rows';
import type { FleetLine, NearLimit } from '#shared/school-people';
import type { Observation } from '#shared/statement';
import { readFull, readJson, MAX_JSON_BYTES } from '#store/pure';
import { aircraftOf, keyOfName } from './aircraft.ts';
import type { Database } from './database.ts';
import type { WalkRow } from './tables.ts';

/**
 * Walks of an aircraft that are looked through for values. Fewer: what is
 * measured every week only is not shown. More: the desk waits, and an old value
 * says nothing of today.
 */
const WALKS = 10;

export interface Fleet {
  readonly aircraft: readonly FleetLine[];
  /** Walked, and in no list. */
  readonly unlisted: readonly { readonly name: string; readonly catalogue: string }[];
}

type Walked = Pick<WalkRow, 'id' | 'aircraft' | 'catalogue' | 'begun' | 'finished' | 'signed'>;

/**
 * How each aircraft stands by its walks: when it was walked last, and what was
 * measured near its limit. It is the aircraft's, so that everybody who is in may
 * see it; no word, no name and no walk is told. Squawks and deferrals every device has.
 */
export async function fleetOf({ sql: db }: Database, school: string): Promise<Fleet> {
  const { rows: walks } = await sql<Walked>`
    select id, aircraft, catalogue, begun, finished, signed from (
      select w.*, row_number() over (partition by aircraft order by begun desc, id desc) as n
      from walk w where w.school = ${school} and not exists (
        select 1 from event d where d.school = w.school and d.walk = w.id
          and d.kind = 'discarded' and d.aside is null)) w
    where n <= ${WALKS} order by begun desc, id desc`.execute(db);
  const list = await aircraftOf(db, school);
  const catalogues = await currentOnes(db, school, new Set(list.map((a) => a.catalogue)));
  const said = await valuesSaid(db, school, walks);
  const lines = list.map((one): FleetLine => {
    const keys = new Set([one.name, ...one.was].map(keyOfName));
    const own = walks.filter((w) => keys.has(keyOfName(w.aircraft)));
    const [last] = own;
    const catalogue = catalogues.get(one.catalogue);
    return {
      ...one,
      last:
        last === undefined
          ? null
          : {
              begun: last.begun,
              state: last.signed ? 'signed' : last.finished ? 'finished' : 'walking',
            },
      near:
        catalogue === undefined
          ? []
          : [
              ...nearOf(
                own.map((w) => said.get(w.id) ?? []),
                catalogue,
              ),
            ],
    };
  });
  const listed = new Set(list.flatMap((a) => [a.name, ...a.was]).map(keyOfName));
  const unlisted = new Map<string, { name: string; catalogue: string }>();
  for (const { aircraft: name, catalogue } of walks) {
    const key = keyOfName(name);
    if (!listed.has(key) && !unlisted.has(key)) unlisted.set(key, { name, catalogue });
  }
  return { aircraft: lines, unlisted: [...unlisted.values()] };
}

async function currentOnes(
  db: Database['sql'],
  school: string,
  ids: ReadonlySet<string>,
): Promise<ReadonlyMap<string, Catalogue>> {
  const rows = await db
    .selectFrom('catalogue')
    .where('school', '=', school)
    .where('catalogue', 'in', ['', ...ids])
    .where(sql<boolean>`current`)
    .select(['catalogue', 'text'])
    .execute();
  return new Map(
    rows.flatMap(({ catalogue, text }) => {
      const json = readJson(text, MAX_JSON_BYTES);
      const read = json.ok ? readFull(json.value) : json;
      return read.ok ? [[catalogue, read.value] as const] : [];
    }),
  );
}

/** A result with a value, and when it was said. */
interface Said {
  readonly at: number;
  readonly statement: Observation;
}

/** What was said with a value on these walks and still stands, in its order. */
async function valuesSaid(
  db: Database['sql'],
  school: string,
  walks: readonly Walked[],
): Promise<ReadonlyMap<string, readonly Said[]>> {
  if (walks.length === 0) return new Map();
  // An event is kept in RFC 8785's form: without spaces.
  const rows = await db
    .selectFrom('event')
    .where('school', '=', school)
    .where(
      'walk',
      'in',
      walks.map((w) => w.id),
    )
    .where('aside', 'is', null)
    .where((e) =>
      e.or([
        e('kind', '=', 'reviewed'),
        e.and([
          e('kind', '=', 'stated'),
          e.or([
            e('text', 'like', '%"inUnit":{%'),
            e('text', 'like', '%"kind":"retraction"%'),
            e('text', 'like', '%"amends":"%'),
          ]),
        ]),
      ]),
    )
    .select(['walk', 'text'])
    .orderBy('seq')
    .execute();
  const byWalk = new Map<string, Event[]>();
  for (const { walk, text } of rows) {
    const read = Event.safeParse(JSON.parse(text));
    if (!read.success || walk === null) continue;
    byWalk.set(walk, [...(byWalk.get(walk) ?? []), read.data]);
  }
  return new Map([...byWalk].map(([walk, events]) => [walk, standing(events)]));
}

/** Results that nobody took back; a reviewer's reading stands in the place of what they reviewed (R6). */
function standing(events: readonly Event[]): readonly Said[] {
  const gone = new Set<string>();
  const instead = new Map<string, Observation | null>();
  for (const { what } of events) {
    if (what.kind === 'reviewed' && what.of.kind === 'reading')
      instead.set(
        what.of.statement,
        what.of.instead?.kind === 'observation' ? what.of.instead : null,
      );
    if (what.kind !== 'stated') continue;
    if (what.statement.kind === 'retraction') gone.add(what.statement.of);
    if (what.statement.kind === 'observation' && what.statement.amends !== null)
      gone.add(what.statement.amends);
  }
  return events.flatMap(({ at, what }) => {
    if (what.kind !== 'stated' || what.statement.kind !== 'observation') return [];
    const { id } = what.statement;
    const statement = instead.has(id) ? (instead.get(id) ?? null) : what.statement;
    return statement === null || !counts(statement) || gone.has(id) ? [] : [{ at, statement }];
  });
}

/** A doubtful one is asked about, and counts for nothing before. */
const counts = ({ force, doubtful }: Observation) => force === 'result' && doubtful === null;

/**
 * The last value of each measure at each of its places, where it is near a limit or past it.
 *
 * @param walks what was said on each, the latest walk first
 */
function nearOf(walks: readonly (readonly Said[])[], catalogue: Catalogue): readonly NearLimit[] {
  const checks = new Map(catalogue.stations.flatMap((s) => s.checks.map((c) => [c.id, c])));
  const latest = new Map<string, NearLimit | null>();
  for (const walk of walks)
    // The last that was said of it on this walk first.
    for (const { at, statement } of [...walk].reverse()) {
      const { about } = statement;
      const check = about.kind === 'check' ? checks.get(about.check) : undefined;
      if (check === undefined || about.kind !== 'check') continue;
      const named = about.which.instances.length === 0 ? [ONCE] : about.which.instances;
      for (const { value, measure, at: own } of placedValues(check, statement)) {
        if (value.inUnit === null || value.trouble !== null || measure === null) continue;
        const middle = (value.inUnit.low + value.inUnit.high) / 2;
        const [low, high] = [measure.low ?? null, measure.high ?? null];
        const stands = nearLimit(middle, low, high);
        for (const place of own === undefined ? named : (own ?? [])) {
          const key = JSON.stringify([check.id, place, measure.id]);
          if (latest.has(key)) continue;
          const name = `${place === ONCE ? '' : `${place} `}${check.name}, ${measure.name}`;
          latest.set(
            key,
            stands === null
              ? null
              : {
                  name,
                  value: middle,
                  unit: measure.unit ?? null,
                  low,
                  high,
                  past: stands === 'past',
                  at,
                },
          );
        }
      }
    }
  return [...latest.values()].filter((one) => one !== null);
}
