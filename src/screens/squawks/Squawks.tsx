import { lazy, Suspense, useCallback, useEffect, useState } from 'react';
import { Link, useLocation } from 'wouter';
import { handOut } from '../parts/handOut.ts';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { useTell } from '../parts/Tell.tsx';
import { Waiting } from '../parts/Frame.tsx';
import { Woven } from '../parts/Woven.tsx';
import type { AnswersWay, SquawkBook, SquawkPaper, SquawkView } from '../services.ts';
import { useText } from '../text/text.ts';
import { AnswersAsked, type Asked } from './AnswersAsked.tsx';
import { SameFaults } from './Same.tsx';
import { SquawkCard } from './SquawkCard.tsx';
import './squawks.css';

const Trend = lazy(() => import('./Trend.tsx'));

const GROUPS: readonly { title: string; of: (s: SquawkView) => boolean }[] = [
  { title: 'squawks-run-out', of: (s) => s.overdue !== null },
  { title: 'squawks-open', of: (s) => s.overdue === null && s.squawk.state === 'open' },
  { title: 'squawks-deferred', of: (s) => s.overdue === null && s.squawk.state === 'deferred' },
  {
    title: 'squawks-rectified',
    of: (s) => s.squawk.state === 'rectified' || s.squawk.state === 'rechecked',
  },
  {
    title: 'squawks-closed',
    of: (s) => ['closed', 'joined', 'withdrawn'].includes(s.squawk.state),
  },
];

/** The squawks of one aircraft, each with its life, and measured values over time. */
export default function Squawks({ aircraft }: { aircraft: string | null }) {
  const house = useHouse();
  const t = useText();
  const choices = useLive(house.choices);
  const [, go] = useLocation();
  const chosen = aircraft ?? choices.last?.aircraft ?? choices.aircraft[0]?.aircraft ?? null;
  if (chosen === null) {
    return (
      <>
        <h1>{t('place-squawks')}</h1>
        <p>
          <Woven
            id="squawks-none-known"
            of={{
              report: <Link href="/squawk">{t('squawks-report')}</Link>,
              begin: <Link href="/">{t('squawks-begin')}</Link>,
            }}
          />
        </p>
      </>
    );
  }
  return (
    <div className="squawks">
      <header className="head">
        <h1>{chosen}</h1>
        {choices.aircraft.length > 1 && (
          <label className="field noprint">
            <span>{t('aircraft')}</span>
            <select
              value={chosen}
              onChange={(e) => go(`/squawks/${encodeURIComponent(e.target.value)}`)}
            >
              {choices.aircraft.map((a) => (
                <option key={a.aircraft}>{a.aircraft}</option>
              ))}
            </select>
          </label>
        )}
      </header>
      <Book key={chosen} aircraft={chosen} />
    </div>
  );
}

function Book({ aircraft }: { aircraft: string }) {
  const house = useHouse();
  const { tell, say } = useTell();
  const t = useText();
  const [book, setBook] = useState<SquawkBook | null>(null);
  const [error, setError] = useState<string | null>(null);
  const load = useCallback(
    () =>
      house.squawkBook(aircraft).then((o) => {
        if (o.ok) setBook(o.value);
        else setError(o.error);
      }),
    [house, aircraft],
  );
  useEffect(() => {
    void load();
  }, [load]);
  const give = async (kind: SquawkPaper) => {
    const outcome = await house.squawkPaper(aircraft, kind);
    if (tell(outcome) && outcome.ok) await handOut(outcome.value.name, outcome.value.blob, true);
  };
  /** A mechanic's file that something has to be asked about. */
  const [asked, setAsked] = useState<Asked | null>(null);
  const answers = async (file: File | undefined, how: AnswersWay = {}) => {
    if (file === undefined) return;
    setAsked(null);
    const outcome = await house.squawkAnswers(file, how);
    if (!tell(outcome) || !outcome.ok) return;
    const { text, asks, doubts } = outcome.value;
    if (asks !== undefined || doubts !== undefined) setAsked({ file, how, taken: outcome.value });
    if (text !== '') say(text);
    await load();
  };
  if (error !== null) return <p role="alert">{t.said(error)}</p>;
  if (book === null) return <Waiting what={t('squawks-opening')} />;
  const guessed = book.guessed ?? null;
  return (
    <>
      <div className="tools noprint">
        <Link className="press main" href={`/squawk/${encodeURIComponent(aircraft)}`}>
          {t('squawks-new')}
        </Link>
        <button type="button" className="press" onClick={() => void give('pdf')}>
          {t('squawks-list')}
        </button>
        <button type="button" className="press" onClick={() => void give('csv')}>
          {t('sheet-csv')}
        </button>
        <button type="button" className="press" onClick={() => void give('json')}>
          {t('sheet-json')}
        </button>
        {house.learned !== undefined && (
          <Link className="press" href={`/learned/${encodeURIComponent(aircraft)}`}>
            {t('learned')}
          </Link>
        )}
        <label className="press choose">
          {t('squawks-answers')}
          <input
            type="file"
            accept=".csv,text/csv"
            onChange={(e) => {
              const file = e.target.files?.[0];
              // The same file may be chosen again, once it is mended.
              e.target.value = '';
              void answers(file);
            }}
          />
        </label>
      </div>
      {asked !== null && (
        <AnswersAsked
          asked={asked}
          again={(how) => void answers(asked.file, how)}
          leave={() => setAsked(null)}
        />
      )}
      {book.squawks.length > 0 && guessed !== null && <p className="notice">{t.said(guessed)}</p>}
      <SameFaults book={book} changed={load} />
      {book.squawks.length === 0 && <p>{t('squawks-none', { aircraft })}</p>}
      {GROUPS.map((g) => {
        const list = book.squawks.filter(g.of);
        if (list.length === 0) return null;
        return (
          <section key={g.title} className="squawk-group">
            <h2>{t(g.title)}</h2>
            <ul>
              {list.map((s) => (
                <SquawkCard key={s.squawk.id} view={s} changed={load} />
              ))}
            </ul>
          </section>
        );
      })}
      {book.trends.length > 0 && (
        <section className="squawk-group">
          <h2>{t('squawks-trends')}</h2>
          <Suspense fallback={<Waiting what={t('squawks-drawing')} />}>
            <ul className="trends">
              {book.trends.map((trend) => (
                <li key={trend.id}>
                  <Trend trend={trend} />
                </li>
              ))}
            </ul>
          </Suspense>
        </section>
      )}
      <p className="small quiet">{t('squawks-foot')}</p>
    </>
  );
}
