import { useState } from 'react';
import { Link, useLocation } from 'wouter';
import type { Circumstance } from '#shared/circumstance';
import { DiscardWalk } from '../finish/Discard.tsx';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { Mark } from '../parts/Mark.tsx';
import { useTell } from '../parts/Tell.tsx';
import { capital, dateTime } from '../parts/words.ts';
import { PRACTICE, type Choices, type EarKind, type Services, type WalkLine } from '../services.ts';
import { useText } from '../text/text.ts';
import { Aircraft } from './Aircraft.tsx';
import { rowsOf, type Row } from './rows.ts';
import { LocalOffer, NewVersion, NoCopy, Warnings } from './Told.tsx';
import { useVoice } from './useVoice.ts';
import { Who } from './Who.tsx';
import '../plan/plan.css';
import './begin.css';

/** The first screen: which aircraft, what about today, and one button. */
export function Begin() {
  const house = useHouse();
  const choices = useLive(house.choices);
  const t = useText();
  if (!choices.ready) {
    return (
      <p className="quiet" role="status">
        {t('begin-opening')}
      </p>
    );
  }
  return <Ready choices={choices} house={house} />;
}

function Ready({ choices, house }: { choices: Choices; house: Services }) {
  const settings = useLive(house.settings);
  const { tell } = useTell();
  const t = useText();
  const [, go] = useLocation();
  const { known, kinds } = rowsOf(choices);
  const rows = [...known, ...kinds];
  const [picked, setPicked] = useState(rows[0]?.key ?? '');
  const [today, setToday] = useState<ReadonlySet<Circumstance>>(new Set());
  const [name, setName] = useState('');
  const [who, setWho] = useState({ pilot: settings.pilot, instructor: '', hours: '' });
  const [busy, setBusy] = useState(false);
  const row = rows.find((r) => r.key === picked) ?? rows[0];
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

  return (
    <div className="begin">
      {choices.trouble !== null && (
        <div className="notice refused" role="alert">
          <p>{t.said(choices.trouble)}</p>
        </div>
      )}
      <div className="begin-craft">
        <Aircraft
          known={known}
          kinds={kinds}
          picked={row?.key ?? ''}
          today={today}
          pick={setPicked}
        />
        {known.length === 0 && row !== undefined && <TryIt row={row} />}
        {choices.unfinished !== null && <LeftOff walk={choices.unfinished} />}
        <div className="told-lines">
          <Warnings warnings={choices.warnings ?? []} />
          {choices.heardBadly === true && (
            <OfferCheck catalogue={row?.catalogue.id} ear={settings.ear} />
          )}
          {(settings.ear === 'embedded' || settings.ear === 'browser') && <LocalOffer />}
          <NoCopy />
          <NewVersion />
        </div>
      </div>
      {row !== undefined && (
        <div className="today">
          {!row.known && (
            <label className="field">
              <span>{t('begin-name')}</span>
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
                  {t('begin-unwalked', { aircraft: unwalked.map((a) => a.aircraft).join(', ') })}
                </span>
              )}
            </label>
          )}
          {row.catalogue.circumstances.length > 0 && (
            <fieldset>
              <legend>
                <h2>{t('begin-today')}</h2>
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
                    {capital(t(`circumstance-${c}`))}
                  </label>
                ))}
              </div>
            </fieldset>
          )}
          <Who who={who} set={setWho} hours={row.hours} />
          <Cautions row={row.known ? row : { ...row, squawks: named?.openSquawks ?? [] }} />
          <p className="small quiet">
            {t('begin-instead')} <Link href="/walks">{t('begin-bring-in')}</Link> ·{' '}
            <Link href={`/squawk/${encodeURIComponent(row.aircraft)}`}>{t('begin-squawk')}</Link>
          </p>
        </div>
      )}
      <div className="go">
        {listens && <p role="status">{t('begin-voice')}</p>}
        <button
          type="button"
          className="press main glove"
          onClick={() => void begin()}
          disabled={busy}
        >
          {t(busy ? 'beginning' : 'begin-walk')}
        </button>
      </div>
    </div>
  );
}

/** Much of the last walk gave no words: ten seconds that may mend it. */
function OfferCheck({ catalogue, ear }: { catalogue: string | undefined; ear: EarKind }) {
  const house = useHouse();
  const t = useText();
  if (house.earCheck === undefined || catalogue === undefined || ear !== 'embedded') return null;
  return (
    <p className="one-told">
      {t('check-offer')}{' '}
      <Link href={`/ear/${encodeURIComponent(catalogue)}`}>{t('check-title')}</Link>
    </p>
  );
}

/** The first use: a walk of three sentences on the real screen, under a name that is no aircraft. */
function TryIt({ row }: { row: Row }) {
  const house = useHouse();
  const settings = useLive(house.settings);
  const { tell } = useTell();
  const t = useText();
  const [, go] = useLocation();
  const [busy, setBusy] = useState(false);
  const begin = async () => {
    setBusy(true);
    const outcome = await house.begin({
      aircraft: PRACTICE,
      catalogue: row.catalogue.id,
      circumstances: [],
      pilot: null,
      instructor: null,
      hours: null,
      ear: settings.ear,
    });
    setBusy(false);
    if (tell(outcome)) go('/walk');
  };
  return (
    <button type="button" className="press try-it" disabled={busy} onClick={() => void begin()}>
      {t('begin-first')}
    </button>
  );
}

/** A walk that was neither finished nor given up: gone on with, or thrown away. */
function LeftOff({ walk }: { walk: WalkLine }) {
  const house = useHouse();
  const { tell } = useTell();
  const t = useText();
  const [, go] = useLocation();
  const takeUp = async () => {
    if (tell(await house.takeUp(walk.id))) go('/walk');
  };
  const { aircraft, open } = walk;
  const when = dateTime(walk.begun);
  return (
    <section className="left-off">
      <p>
        {open === null
          ? t('begin-unfinished-uncounted', { aircraft, when })
          : t('begin-unfinished', { aircraft, when, gaps: t('gaps', { n: open }) })}
      </p>
      <div className="tools">
        <button type="button" className="press" onClick={() => void takeUp()}>
          {t('begin-go-on')}
        </button>
        <DiscardWalk walk={walk.id} label={t('begin-discard')} done={() => undefined} />
      </div>
    </section>
  );
}

function Cautions({ row }: { row: Row }) {
  const t = useText();
  const { cautions, notice } = row.catalogue;
  return (
    <>
      {row.squawks.length > 0 && (
        <section>
          <h2>{t('begin-carried')}</h2>
          <ul className="lines">
            {/* Two squawks may be called alike, and both are carried (R4). */}
            {row.squawks.map((s, i) => (
              <li key={`${i} ${s}`} className="carried">
                <Mark of="finding" label={t('begin-carried-mark')} /> {s}
              </li>
            ))}
          </ul>
        </section>
      )}
      {cautions.length > 0 && (
        <section className="cautions">
          <h2>{t('begin-cautions')}</h2>
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
