import { useCallback, useEffect, useState } from 'react';
import { Link, useLocation } from 'wouter';
import { Waiting } from '../parts/Frame.tsx';
import { handOut } from '../parts/handOut.ts';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { useTell } from '../parts/Tell.tsx';
import type { LearnedBook, LearnedLine, LearnedServices, LearnedTaken } from '../services.ts';
import { useText } from '../text/text.ts';
import './learned.css';

/** What the words of each speaker were told to mean on one aircraft: seen, forgotten, carried on. */
export default function Learned({ aircraft }: { aircraft: string | null }) {
  const house = useHouse();
  const t = useText();
  const choices = useLive(house.choices);
  const [, go] = useLocation();
  const chosen = aircraft ?? choices.last?.aircraft ?? choices.aircraft[0]?.aircraft ?? null;
  const { learned } = house;
  if (learned === undefined) return <p>{t('learned-none')}</p>;
  const names = choices.aircraft.map((a) => a.aircraft);
  const all = chosen === null || names.includes(chosen) ? names : [chosen, ...names];
  return (
    <div className="learned">
      <header className="head">
        <h1>{chosen === null ? t('learned') : t('learned-on', { aircraft: chosen })}</h1>
        {all.length > 1 && (
          <label className="field noprint">
            <span>{t('aircraft')}</span>
            <select
              value={chosen ?? ''}
              onChange={(e) => go(`/learned/${encodeURIComponent(e.target.value)}`)}
            >
              {all.map((name) => (
                <option key={name}>{name}</option>
              ))}
            </select>
          </label>
        )}
      </header>
      <Book key={chosen} aircraft={chosen} learned={learned} />
    </div>
  );
}

function Book({ aircraft, learned }: { aircraft: string | null; learned: LearnedServices }) {
  const house = useHouse();
  const { tell, say } = useTell();
  const t = useText();
  const [, go] = useLocation();
  const [book, setBook] = useState<LearnedBook | null>(null);
  const [error, setError] = useState<string | null>(null);
  /** A file of which something is taken only with a yes. */
  const [asked, setAsked] = useState<{ file: File; taken: LearnedTaken } | null>(null);
  const load = useCallback(
    () =>
      learned.book(aircraft ?? '').then((outcome) => {
        if (outcome.ok) setBook(outcome.value);
        else setError(outcome.error);
      }),
    [learned, aircraft],
  );
  useEffect(() => {
    void load();
  }, [load]);
  const change = async (work: Promise<Parameters<typeof tell>[0]> | undefined) => {
    if (work !== undefined) tell(await work);
    await load();
  };
  const give = async () => {
    if (aircraft === null) return;
    const outcome = await learned.give(aircraft);
    if (tell(outcome) && outcome.ok) await handOut(outcome.value.name, outcome.value.blob, true);
  };
  const take = async (file: File | undefined, yes = false) => {
    if (file === undefined) return;
    setAsked(null);
    const outcome = await learned.take(file, yes);
    if (!tell(outcome) || !outcome.ok) return;
    say(outcome.value.text);
    if (outcome.value.asks.length > 0) setAsked({ file, taken: outcome.value });
    if (aircraft !== outcome.value.aircraft && outcome.value.asks.length === 0)
      go(`/learned/${encodeURIComponent(outcome.value.aircraft)}`);
    await load();
  };
  if (error !== null) return <p role="alert">{t.said(error)}</p>;
  if (book === null) return <Waiting what={t('learned-opening')} />;
  const speakers = [...new Set(book.lines.map((l) => l.speaker))];
  return (
    <>
      <div className="tools noprint">
        {book.lines.length > 0 && (
          <button type="button" className="press" onClick={() => void give()}>
            {t('learned-give')}
          </button>
        )}
        <label className="press choose">
          {t('bring-in')}
          <input
            type="file"
            accept=".json,application/json"
            onChange={(e) => {
              const file = e.target.files?.[0];
              // The same file may be chosen again.
              e.target.value = '';
              void take(file);
            }}
          />
        </label>
        {aircraft !== null && (
          <Link className="press" href={`/squawks/${encodeURIComponent(aircraft)}`}>
            {t('learned-squawks', { aircraft })}
          </Link>
        )}
      </div>
      {asked !== null && (
        <section className="learned-asked">
          <h2>{t('learned-asked')}</h2>
          <p>{t('learned-asked-what')}</p>
          <ul className="lines">
            {asked.taken.asks.map((line) => (
              <Line key={line.id} line={line} who />
            ))}
          </ul>
          <div className="tools">
            <button
              type="button"
              className="press strong"
              onClick={() => void take(asked.file, true)}
            >
              {t('learned-take')}
            </button>
            <button type="button" className="press" onClick={() => setAsked(null)}>
              {t('learned-leave')}
            </button>
          </div>
        </section>
      )}
      {book.lines.length === 0 && (
        <p>
          {aircraft === null ? t('learned-no-aircraft') : t('learned-nothing', { aircraft })}{' '}
          {t('learned-what')}
        </p>
      )}
      {speakers.map((speaker) => (
        <section key={speaker ?? ''}>
          <h2>{speaker ?? t('learned-nameless')}</h2>
          <ul className="lines">
            {book.lines
              .filter((l) => l.speaker === speaker)
              .map((line) => (
                <Line
                  key={line.id}
                  line={line}
                  press={{
                    name: t('learned-forget'),
                    act: () => void change(house.forget?.(line.id, aircraft ?? '')),
                  }}
                />
              ))}
          </ul>
        </section>
      ))}
      {book.forgotten.length > 0 && (
        <section>
          <h2>{t('learned-forgotten')}</h2>
          <ul className="lines">
            {book.forgotten.map((line) => (
              <Line
                key={line.id}
                line={line}
                who
                press={{
                  name: t('learned-again'),
                  act: () => void change(learned.remember(line.id, aircraft ?? '')),
                }}
              />
            ))}
          </ul>
        </section>
      )}
    </>
  );
}

function Line({
  line,
  who = false,
  press,
}: {
  line: LearnedLine;
  who?: boolean;
  press?: { readonly name: string; act(): void };
}) {
  const t = useText();
  return (
    <li className="learned-line">
      <div>
        <p>
          <strong>{t('quoted', { words: line.phrase })}</strong> {line.means}
        </p>
        <p className="small quiet">
          {[
            ...(who && line.speaker !== null ? [line.speaker] : []),
            t('learned-when', { day: line.on }),
            ...(line.asked === null ? [] : [t('learned-question', { question: line.asked })]),
            ...(line.told === null ? [] : [t('learned-said', { words: line.told })]),
          ].join(', ')}
        </p>
      </div>
      {press !== undefined && (
        <button
          type="button"
          className="press"
          aria-label={t('learned-press', { act: press.name, phrase: line.phrase })}
          onClick={press.act}
        >
          {press.name}
        </button>
      )}
    </li>
  );
}
