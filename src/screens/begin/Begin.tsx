import { useState } from 'react';
import { Link, useLocation } from 'wouter';
import type { Circumstance } from '#shared/circumstance';
import { CIRCUMSTANCE_WORDS } from '#shared/circumstance';
import { Drawing } from '../plan/Drawing.tsx';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { Mark } from '../parts/Mark.tsx';
import { useTell } from '../parts/Tell.tsx';
import { capital, dateTime, many } from '../parts/words.ts';
import type { CatalogueChoice, Choices, Services } from '../services.ts';
import { NewVersion, NoCopy, Warnings } from './Told.tsx';
import { useVoice } from './useVoice.ts';
import { Who } from './Who.tsx';
import '../plan/plan.css';
import './begin.css';

/** An aircraft to walk round: a known one, or a catalogue that was never walked. */
interface Row {
  readonly key: string;
  readonly aircraft: string;
  readonly catalogue: CatalogueChoice;
  readonly known: boolean;
  readonly squawks: readonly string[];
  readonly hours: number | null;
}

function rowsOf(choices: Choices): readonly Row[] {
  const by = new Map(choices.catalogues.map((c) => [c.id, c]));
  const known = choices.aircraft.flatMap((a) => {
    const catalogue = by.get(a.catalogue ?? '');
    if (catalogue === undefined) return [];
    return [
      {
        key: `a:${a.aircraft}`,
        aircraft: a.aircraft,
        catalogue,
        known: true,
        squawks: a.openSquawks,
        hours: a.hours,
      },
    ];
  });
  const fresh = choices.catalogues.map((c) => ({
    key: `c:${c.id}`,
    aircraft: '',
    catalogue: c,
    known: false,
    squawks: [],
    hours: null,
  }));
  return [...known, ...fresh];
}

/** The first screen: which aircraft, what about today, and one button. */
export function Begin() {
  const house = useHouse();
  const choices = useLive(house.choices);
  if (!choices.ready) {
    return (
      <p className="quiet" role="status">
        Opening the data base …
      </p>
    );
  }
  return <Ready choices={choices} house={house} />;
}

function Ready({ choices, house }: { choices: Choices; house: Services }) {
  const settings = useLive(house.settings);
  const { tell } = useTell();
  const [, go] = useLocation();
  const rows = rowsOf(choices);
  const first = rows.find((r) => r.known && r.aircraft === choices.last?.aircraft) ?? rows[0];
  const [picked, setPicked] = useState(first?.key ?? '');
  const [today, setToday] = useState<ReadonlySet<Circumstance>>(new Set());
  const [name, setName] = useState('');
  const [who, setWho] = useState({ pilot: settings.pilot, instructor: '', hours: '' });
  const [busy, setBusy] = useState(false);
  const row = rows.find((r) => r.key === picked) ?? first;
  // Squawked and never walked: which kind it is has to be picked, not guessed.
  const unwalked = choices.aircraft.filter((a) => a.catalogue === null);
  const named = unwalked.find((a) => a.aircraft === name.trim());

  const begin = async () => {
    if (row === undefined || busy) return;
    setBusy(true);
    const hours = Number.parseFloat(who.hours.replace(',', '.'));
    const outcome = await house.begin({
      aircraft: row.known ? row.aircraft : name.trim() || row.catalogue.name,
      catalogue: row.catalogue.id,
      circumstances: [...today].filter((c) => row.catalogue.circumstances.includes(c)),
      pilot: who.pilot.trim() || null,
      instructor: who.instructor.trim() || null,
      hours: Number.isFinite(hours) ? hours : row.hours,
      ear: settings.ear,
    });
    setBusy(false);
    if (tell(outcome)) go('/walk');
  };
  const listens = useVoice(row?.catalogue.id, () => void begin());
  const takeUp = async (id: string) => {
    if (tell(await house.takeUp(id))) go('/walk');
  };

  return (
    <div className="begin">
      {choices.trouble !== null && (
        <div className="notice refused" role="alert">
          <p>{choices.trouble}</p>
        </div>
      )}
      <Warnings warnings={choices.warnings ?? []} />
      <NoCopy />
      <NewVersion />
      {choices.unfinished !== null && (
        <section className="left-off">
          <p>
            <strong>{choices.unfinished.aircraft}</strong>, begun{' '}
            {dateTime(choices.unfinished.begun)}, is not finished
            {choices.unfinished.open !== null && `: ${many(choices.unfinished.open, 'check')} open`}
            .
          </p>
          <button
            type="button"
            className="press"
            onClick={() => void takeUp(choices.unfinished?.id ?? '')}
          >
            Go on with it
          </button>
        </section>
      )}
      <fieldset>
        <legend>
          <h1>Which aircraft?</h1>
        </legend>
        <div className="aircraft">
          {rows.map((r) => (
            <label key={r.key} className="craft">
              <input
                type="radio"
                name="aircraft"
                value={r.key}
                checked={r.key === row?.key}
                onChange={() => setPicked(r.key)}
              />
              <svg viewBox="0 0 100 100" className="plan" aria-hidden="true">
                <Drawing kind={r.catalogue.kind} />
              </svg>
              <span>
                <strong>{r.known ? r.aircraft : r.catalogue.name}</strong>
                <span className="quiet small">
                  {r.known
                    ? r.catalogue.name
                    : `${many(r.catalogue.stations, 'station')}, ${many(r.catalogue.checks, 'check')}`}
                </span>
                {r.squawks.length > 0 && (
                  <span className="small squawked">
                    <Mark of="finding" label="" />
                    {many(r.squawks.length, 'open squawk')}
                  </span>
                )}
              </span>
            </label>
          ))}
        </div>
      </fieldset>
      {row !== undefined && (
        <div className="today">
          {!row.known && (
            <label className="field">
              <span>What do you call it? Its registration, or leave it empty.</span>
              <input
                value={name}
                list="unwalked"
                onChange={(e) => setName(e.target.value)}
                autoComplete="off"
              />
              <datalist id="unwalked">
                {unwalked.map((a) => (
                  <option key={a.aircraft} value={a.aircraft} />
                ))}
              </datalist>
              {unwalked.length > 0 && (
                <span className="small">
                  Squawked and not yet walked: {unwalked.map((a) => a.aircraft).join(', ')}.
                </span>
              )}
            </label>
          )}
          {row.catalogue.circumstances.length > 0 && (
            <fieldset>
              <legend>
                <h2>Today</h2>
              </legend>
              <div className="circumstances">
                {row.catalogue.circumstances.map((c) => (
                  <label key={c} className="tick">
                    <input
                      type="checkbox"
                      checked={today.has(c)}
                      onChange={(e) => {
                        const next = new Set(today);
                        if (e.target.checked) next.add(c);
                        else next.delete(c);
                        setToday(next);
                      }}
                    />
                    {capital(CIRCUMSTANCE_WORDS[c])}
                  </label>
                ))}
              </div>
            </fieldset>
          )}
          <Who who={who} set={setWho} hours={row.hours} />
          <Cautions row={row.known ? row : { ...row, squawks: named?.openSquawks ?? [] }} />
          <p className="small quiet">
            Nothing to say it to? <Link href="/walks">Bring in a transcript or a sound file</Link>,
            or <Link href={`/squawk/${encodeURIComponent(row.aircraft)}`}>report a squawk</Link>{' '}
            without a walk.
          </p>
        </div>
      )}
      <div className="go">
        {listens && (
          <p role="status">Or say “begin”. The microphone is on; no sound leaves this device.</p>
        )}
        <button
          type="button"
          className="press main glove"
          onClick={() => void begin()}
          disabled={busy}
        >
          {busy ? 'Beginning …' : 'Begin the walk'}
        </button>
      </div>
    </div>
  );
}

function Cautions({ row }: { row: Row }) {
  const { cautions, notice } = row.catalogue;
  return (
    <>
      {row.squawks.length > 0 && (
        <section>
          <h2>Carried from before</h2>
          <ul className="lines">
            {/* Two squawks may be called alike, and both are carried (R4). */}
            {row.squawks.map((s, i) => (
              <li key={`${i} ${s}`} className="carried">
                <Mark of="finding" label="open squawk" /> {s}
              </li>
            ))}
          </ul>
        </section>
      )}
      {cautions.length > 0 && (
        <section className="cautions">
          <h2>Before you touch anything</h2>
          <ul>
            {cautions.map((c) => (
              <li key={c}>{c}</li>
            ))}
          </ul>
        </section>
      )}
      {notice !== null && <p className="small quiet">{notice}</p>}
    </>
  );
}
