import { lazy, Suspense, useCallback, useEffect, useState } from 'react';
import { Link, useLocation } from 'wouter';
import { handOut } from '../parts/handOut.ts';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { useTell } from '../parts/Tell.tsx';
import { Waiting } from '../parts/Frame.tsx';
import type { AnswersWay, SquawkBook, SquawkPaper, SquawkView } from '../services.ts';
import { AnswersAsked, type Asked } from './AnswersAsked.tsx';
import { SameFaults } from './Same.tsx';
import { SquawkCard } from './SquawkCard.tsx';
import './squawks.css';

const Trend = lazy(() => import('./Trend.tsx'));

const GROUPS: readonly { title: string; of: (s: SquawkView) => boolean }[] = [
  { title: 'Run out', of: (s) => s.overdue !== null },
  { title: 'Open', of: (s) => s.overdue === null && s.squawk.state === 'open' },
  { title: 'Deferred', of: (s) => s.overdue === null && s.squawk.state === 'deferred' },
  {
    title: 'Rectified, to be rechecked and closed',
    of: (s) => s.squawk.state === 'rectified' || s.squawk.state === 'rechecked',
  },
  {
    title: 'Closed or withdrawn',
    of: (s) => ['closed', 'joined', 'withdrawn'].includes(s.squawk.state),
  },
];

/** The squawks of one aircraft, each with its life, and measured values over time. */
export default function Squawks({ aircraft }: { aircraft: string | null }) {
  const house = useHouse();
  const choices = useLive(house.choices);
  const [, go] = useLocation();
  const chosen = aircraft ?? choices.last?.aircraft ?? choices.aircraft[0]?.aircraft ?? null;
  if (chosen === null) {
    return (
      <>
        <h1>Squawks</h1>
        <p>
          No aircraft is known on this device yet. <Link href="/squawk">Report a squawk</Link> or{' '}
          <Link href="/">begin a walk</Link>.
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
            <span>Aircraft</span>
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
  if (error !== null) return <p role="alert">{error}</p>;
  if (book === null) return <Waiting what="Opening the squawks …" />;
  return (
    <>
      <div className="tools noprint">
        <Link className="press main" href={`/squawk/${encodeURIComponent(aircraft)}`}>
          New squawk
        </Link>
        <button type="button" className="press" onClick={() => void give('pdf')}>
          Discrepancy list
        </button>
        <button type="button" className="press" onClick={() => void give('csv')}>
          Table (CSV)
        </button>
        <button type="button" className="press" onClick={() => void give('json')}>
          Data (JSON)
        </button>
        {house.learned !== undefined && (
          <Link className="press" href={`/learned/${encodeURIComponent(aircraft)}`}>
            What was learned
          </Link>
        )}
        <label className="press choose">
          Bring in the workshop’s answers (CSV)
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
      {book.squawks.length > 0 && (book.guessed ?? null) !== null && (
        <p className="notice">{book.guessed}</p>
      )}
      <SameFaults book={book} changed={load} />
      {book.squawks.length === 0 && <p>No squawk is kept for {aircraft}.</p>}
      {GROUPS.map((g) => {
        const list = book.squawks.filter(g.of);
        if (list.length === 0) return null;
        return (
          <section key={g.title} className="squawk-group">
            <h2>{g.title}</h2>
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
          <h2>Measured over time</h2>
          <Suspense fallback={<Waiting what="Drawing …" />}>
            <ul className="trends">
              {book.trends.map((t) => (
                <li key={t.id}>
                  <Trend trend={t} />
                </li>
              ))}
            </ul>
          </Suspense>
        </section>
      )}
      <p className="small quiet">
        This list is no maintenance release. 14 CFR 43.9 says what a maintenance entry holds, 14 CFR
        91.213 which item may stay inoperative; local rules decide.
      </p>
    </>
  );
}
