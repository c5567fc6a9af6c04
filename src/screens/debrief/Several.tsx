import { useEffect, useMemo, useState } from 'react';
import { Link } from 'wouter';
import { Plan } from '../plan/Plan.tsx';
import { Waiting } from '../parts/Frame.tsx';
import { useHouse } from '../parts/house.ts';
import { Mark } from '../parts/Mark.tsx';
import { headWords } from '../parts/WalkHead.tsx';
import { capital, clock, countOf, dateTime, isOpen, namesOf } from '../parts/words.ts';
import type { WalkRecord } from '../services.ts';
import { useText } from '../text/text.ts';
import { runnerPath } from './axis.ts';
import { Pace } from './Pace.tsx';
import { talkOf, type Talk } from './talk.ts';
import './debrief.css';
import './print.css';

/** Several walks side by side, oldest first: the same small drawing for each. */
export default function Several({ ids }: { ids: readonly string[] }) {
  const house = useHouse();
  const t = useText();
  const [records, setRecords] = useState<readonly WalkRecord[] | null>(null);
  const [errors, setErrors] = useState<readonly string[]>([]);
  const wanted = ids.join(',');
  useEffect(() => {
    let still = true;
    void Promise.all(wanted.split(',').map((id) => house.open(id))).then((all) => {
      if (!still) return;
      const opened = all.flatMap((o) => (o.ok ? [o.value] : []));
      setRecords(opened.sort((a, b) => (a.events[0]?.at ?? 0) - (b.events[0]?.at ?? 0)));
      setErrors(all.flatMap((o) => (o.ok ? [] : [o.error])));
    });
    return () => {
      still = false;
    };
  }, [house, wanted]);
  if (records === null) return <Waiting what={t('walks-opening')} />;
  return (
    <>
      {errors.map((e) => (
        <p key={e} role="alert">
          {t.said(e)}
        </p>
      ))}
      {records.length > 0 && <Side records={records} />}
    </>
  );
}

interface Shown {
  readonly record: WalkRecord;
  readonly talk: Talk;
}

function Side({ records }: { records: readonly WalkRecord[] }) {
  const t = useText();
  const shown = useMemo<readonly Shown[]>(
    () => records.map((r) => ({ record: r, talk: talkOf(r.catalogue, r.events, r.coverage) })),
    [records],
  );
  const longest = Math.max(...shown.map((s) => s.talk.seconds));
  const kinds = new Set(records.map((r) => r.catalogue.id));
  const editions = new Set(records.map((r) => r.coverage.edition));
  return (
    <div className="several">
      <header className="head">
        <h1>{t('several', { walks: t('walks-count', { n: records.length }) })}</h1>
        <p className="quiet">{t('several-how', { length: clock(longest) })}</p>
      </header>
      {kinds.size === 1 && editions.size > 1 && (
        <p className="notice" role="note">
          {t('several-editions', { n: editions.size })}
        </p>
      )}
      <ol className="multiples">
        {shown.map((s) => (
          <li key={s.record.id}>
            <One shown={s} longest={longest} />
          </li>
        ))}
      </ol>
      {kinds.size === 1 ? (
        <>
          <Repeated records={records} />
          <section>
            <h2>{t('pace')}</h2>
            <p className="quiet">{t('pace-how')}</p>
            <Pace records={records} />
          </section>
        </>
      ) : (
        <p>{t('several-catalogues')}</p>
      )}
    </div>
  );
}

function One({ shown, longest }: { shown: Shown; longest: number }) {
  const t = useText();
  const { record, talk } = shown;
  const count = countOf(record.coverage.checks);
  const begun = record.events[0]?.at ?? 0;
  const tally = { spoken: count.spoken, required: count.required };
  const open = count.open === 0 ? t('several-none-open') : t('station-open', { n: count.open });
  const findings = record.coverage.findings.length;
  return (
    <article className="multiple">
      <h2>
        <Link href={`/debrief/${record.id}`}>{dateTime(begun)}</Link>
      </h2>
      <p className="small quiet">
        {record.catalogue.version === undefined
          ? headWords(record, t)
          : t('several-version', {
              head: headWords(record, t),
              version: record.catalogue.version,
            })}
      </p>
      <Plan catalogue={record.catalogue} coverage={record.coverage} />
      <MiniTime shown={shown} longest={longest} />
      <p>
        {talk.timed
          ? t('several-timed', { ...tally, length: clock(talk.seconds) })
          : t('several-untimed', tally)}
      </p>
      <p>
        {findings === 0
          ? open
          : t('several-found', { open, findings: t('findings', { n: findings }) })}
      </p>
    </article>
  );
}

/** The walk in time, very small: the order of the stations and how long each took. */
function MiniTime({ shown, longest }: { shown: Shown; longest: number }) {
  const t = useText();
  const { record, talk } = shown;
  const stations = record.catalogue.stations;
  const lane = new Map(stations.map((s, i) => [s.id, 4 + i * 5]));
  const height = stations.length * 5 + 4;
  const per = 200 / longest;
  return (
    <svg
      className="mini"
      viewBox={`0 0 200 ${height}`}
      role="img"
      aria-label={t('several-order', {
        order: talk.stays.map((s) => stations.findIndex((x) => x.id === s.station) + 1).join(', '),
      })}
    >
      <rect className="mini-span" x="0" y="0" width={talk.seconds * per} height={height} />
      {talk.holds.map((h) => (
        <rect
          key={h.from}
          className="hold-key"
          x={h.from * per}
          y="0"
          width={Math.max(1, (h.to - h.from) * per)}
          height={height}
        />
      ))}
      <path className="runner" d={runnerPath(talk.stays, lane, per)} />
    </svg>
  );
}

/** Checks left open in at least one of the walks, the most often first. */
function Repeated({ records }: { records: readonly WalkRecord[] }) {
  const t = useText();
  const rows = useMemo(() => {
    const by = new Map<string, (WalkRecord['coverage']['checks'][number] | undefined)[]>();
    records.forEach((r, i) => {
      for (const c of r.coverage.checks) {
        const row = by.get(c.check) ?? records.map(() => undefined);
        row[i] = c;
        by.set(c.check, row);
      }
    });
    const open = (
      row: readonly ({ standing: string; required: { today: boolean } } | undefined)[],
    ) =>
      row.filter(
        (c) =>
          c !== undefined &&
          c.required.today &&
          c.standing !== 'spoken' &&
          c.standing !== 'set-aside',
      ).length;
    return [...by]
      .map(([check, row]) => ({ check, row, open: open(row) }))
      .filter((r) => r.open > 0)
      .sort((a, b) => b.open - a.open);
  }, [records]);
  const names = namesOf(records[0]?.catalogue ?? EMPTY);
  if (rows.length === 0) return <p>{t('several-nothing')}</p>;
  return (
    <section>
      <h2>{t('several-left')}</h2>
      <div className="scroll" tabIndex={0} role="region" aria-label={t('several-left-label')}>
        <table className="repeated">
          <thead>
            <tr>
              <th scope="col">{t('several-check')}</th>
              {records.map((r) => (
                <th key={r.id} scope="col" className="small">
                  {dateTime(r.events[0]?.at ?? 0).slice(5, 10)}
                </th>
              ))}
              <th scope="col">{t('several-times')}</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((r) => (
              <tr key={r.check}>
                <th scope="row">{capital(names.check.get(r.check)?.name ?? r.check)}</th>
                {r.row.map((c, i) => (
                  <td key={records[i]?.id ?? i}>
                    {c !== undefined && (c.required.today || isOpen(c.standing) === false) && (
                      <Mark of={c.standing} />
                    )}
                  </td>
                ))}
                <td className="number">{r.open}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}

const EMPTY = {
  v: 1 as const,
  id: 'none',
  name: 'none',
  kind: 'other' as const,
  language: 'en',
  inOrder: false,
  cautions: [],
  gauges: [],
  signs: [],
  stations: [],
};
