import { useEffect, useState } from 'react';
import { Link } from 'wouter';
import { figures } from '#shared/figures';
import type { DeviceLine } from '#shared/school';
import type { FleetLine, NearLimit } from '#shared/school-people';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { dateTime } from '../parts/words.ts';
import type { AircraftChoice, SchoolServices, SchoolView, SquawkBook } from '../services.ts';
import { useText, type Text } from '../text/text.ts';
import { ChangeAircraft, NewAircraft } from './AircraftForms.tsx';
import { useAsked } from './useAsked.ts';
import { editionInWords } from './words.ts';

/** Days before a deferral's last day from which it is shown as running out. */
const SOON_DAYS = 7;
const DAY = 86_400_000;

/** An aircraft as it stands in the list: of the school, walked and in no list, or known by its squawks alone. */
interface Row {
  readonly name: string;
  readonly line: FleetLine | null;
  readonly catalogue: string | null;
}

/** Each aircraft: its last walk, open squawks, deferrals that run out, values near a limit, phones that lack its edition. */
export function Fleet({ school, view }: { school: SchoolServices; view: SchoolView }) {
  const house = useHouse();
  const t = useText();
  const { aircraft, catalogues } = useLive(house.choices);
  const [changes, setChanges] = useState(0);
  const chief = view.hello?.roles.includes('chief') === true;
  const sees = chief || view.hello?.roles.includes('instructor') === true;
  const news = view.news + changes * 1e6;
  const answer = useAsked(() => school.fleet(), news);
  const phones = useAsked(
    () => (sees ? school.devices() : Promise.resolve({ ok: true as const, value: [] })),
    news,
  );
  const fleet = answer?.ok === true ? answer.value : { aircraft: [], unlisted: [] };
  const changed = () => setChanges((n) => n + 1);
  const rows = rowsOf(fleet, aircraft);
  const books = useBooks(
    rows.map((r) => r.name),
    view.news,
  );
  const retired = fleet.aircraft.filter((a) => a.retired);
  const given = (view.hello?.editions ?? []).filter((e) => e.current);
  const named = (id: string) =>
    given.find((e) => e.catalogue === id)?.name ?? catalogues.find((c) => c.id === id)?.name ?? id;
  if (rows.length + retired.length === 0 && !chief) return null;
  return (
    <section aria-label={t('fleet')}>
      <h2>{t('fleet')}</h2>
      {answer?.ok === false && <p className="notice">{t.said(answer.error)}</p>}
      <ul className="lines fleet">
        {rows.map(({ name, line, catalogue }) => (
          <li key={name} data-aircraft={name}>
            <strong>{name}</strong>
            {line !== null && line.was.length > 0 && (
              <span className="quiet">{t('fleet-was', { names: line.was.join(', ') })}</span>
            )}
            {catalogue !== null && <span className="quiet">{named(catalogue)}</span>}
            <span>{lastInWords(line, t)}</span>
            <span>{squawksInWords(name, aircraft, t)}</span>
            {[
              ...warnings(books.get(name), t),
              ...(line?.near ?? []).map((n) => nearInWords(n, t)),
            ].map((sentence) => (
              <span key={sentence} className="warned">
                {sentence}
              </span>
            ))}
            {waiting(phones?.ok === true ? phones.value : [], catalogue).map(
              ({ device, edition }) => (
                <span key={device}>{editionInWords(device, edition, t)}</span>
              ),
            )}
            <Link className="press" href={`/squawks/${encodeURIComponent(name)}`}>
              {t('place-squawks')}
            </Link>
            {chief && line !== null && (
              <ChangeAircraft school={school} line={line} given={given} changed={changed} />
            )}
            {chief && line === null && (
              <NewAircraft
                school={school}
                given={given}
                changed={changed}
                of={{ name, catalogue }}
              />
            )}
          </li>
        ))}
      </ul>
      {retired.length > 0 && (
        <details>
          <summary>{t('fleet-retired', { n: retired.length })}</summary>
          <ul className="lines">
            {retired.map((line) => (
              <li key={line.id}>
                <strong>{line.name}</strong>
                <Link className="press" href={`/squawks/${encodeURIComponent(line.name)}`}>
                  {t('place-squawks')}
                </Link>
                {chief && (
                  <ChangeAircraft school={school} line={line} given={given} changed={changed} />
                )}
              </li>
            ))}
          </ul>
        </details>
      )}
      {chief && <NewAircraft school={school} given={given} changed={changed} />}
    </section>
  );
}

/** The school's list first, then what is walked and in no list, then what is known here by squawks alone. */
function rowsOf(
  fleet: {
    aircraft: readonly FleetLine[];
    unlisted: readonly { name: string; catalogue: string }[];
  },
  known: readonly AircraftChoice[],
): readonly Row[] {
  const rows: Row[] = fleet.aircraft
    .filter((a) => !a.retired)
    .map((line) => ({ name: line.name, line, catalogue: line.catalogue }));
  const listed = new Set(fleet.aircraft.flatMap((a) => [a.name, ...a.was]));
  for (const { name, catalogue } of fleet.unlisted) {
    listed.add(name);
    rows.push({ name, line: null, catalogue });
  }
  for (const { aircraft: name, catalogue } of known)
    if (!listed.has(name)) rows.push({ name, line: null, catalogue });
  return rows;
}

/** What is written up against each aircraft, as far as it is here: squawks are on every device. */
function useBooks(names: readonly string[], news: number): ReadonlyMap<string, SquawkBook> {
  const house = useHouse();
  const [books, setBooks] = useState<ReadonlyMap<string, SquawkBook>>(new Map());
  const joined = names.join('\n');
  useEffect(() => {
    let gone = false;
    void Promise.all(
      joined
        .split('\n')
        .filter((name) => name !== '')
        .map(async (name) => [name, await house.squawkBook(name)] as const),
    ).then((all) => {
      if (gone) return;
      setBooks(new Map(all.flatMap(([name, book]) => (book.ok ? [[name, book.value]] : []))));
    });
    return () => {
      gone = true;
    };
  }, [house, joined, news]);
  return books;
}

function lastInWords(line: FleetLine | null, t: Text): string {
  if (line === null) return t('fleet-unlisted');
  if (line.last === null) return t('fleet-no-walk');
  const when = dateTime(line.last.begun);
  return line.last.state === 'walking' ? t('fleet-walking', { when }) : t('fleet-last', { when });
}

function squawksInWords(name: string, known: readonly AircraftChoice[], t: Text): string {
  const open = known.find((a) => a.aircraft === name)?.openSquawks ?? [];
  return open.length === 0
    ? t('fleet-no-squawk')
    : t('fleet-squawks', { open: t('open-squawks', { n: open.length }), titles: open.join('; ') });
}

/** "Engine oil, level: 4.2 qt on 14 September, near its limit of 4 qt." */
function nearInWords({ name, value, unit, low, high, past, at }: NearLimit, t: Text): string {
  const isLow = low !== null && (high === null || Math.abs(value - low) <= Math.abs(high - value));
  return t(past ? 'fleet-past' : 'fleet-near', {
    name,
    value: figures(value, unit),
    limit: figures((isLow ? low : high) ?? 0, unit),
    when: dateTime(at),
  });
}

/** Phones that have not got the edition which this aircraft is walked with. */
function waiting(devices: readonly DeviceLine[], catalogue: string | null) {
  return devices
    .filter((d) => d.shut === null)
    .flatMap(({ name: device, editions }) =>
      editions
        .filter((e) => e.catalogue === catalogue && e.waiting !== null)
        .map((edition) => ({ device, edition })),
    );
}

function warnings(book: SquawkBook | undefined, t: Text): readonly string[] {
  if (book === undefined) return [];
  const deferrals = book.squawks.flatMap((s) => {
    if (s.overdue !== null) return [t.said(s.overdue)];
    if (s.squawk.state !== 'deferred') return [];
    const step = s.squawk.history.findLast((h) => h.step.step === 'deferred')?.step;
    const until = step?.step === 'deferred' ? step.untilDate : null;
    if (until === null) return [];
    const days = Math.ceil((Date.parse(until) - Date.now()) / DAY);
    return days <= SOON_DAYS ? [t('fleet-deferred', { title: s.title, day: until })] : [];
  });
  const values = book.trends
    .filter((trend) => trend.reaches !== null)
    .map(({ name, text }) => t('fleet-value', { name, text: t.said(text) }));
  return [...new Set([...deferrals, ...values])];
}
