import { useState } from 'react';
import { Link, useLocation } from 'wouter';
import { handOut } from '../parts/handOut.ts';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { Mark } from '../parts/Mark.tsx';
import { useTell } from '../parts/Tell.tsx';
import { clock, dateTime } from '../parts/words.ts';
import type { WalkLine } from '../services.ts';
import { Woven } from '../parts/Woven.tsx';
import { useText } from '../text/text.ts';
import { BringIn } from './BringIn.tsx';
import { openWords, useCounted } from './counted.ts';
import './walks.css';

const STATES: Readonly<Record<WalkLine['state'], string>> = {
  walking: 'walks-state-walking',
  finished: 'walks-state-finished',
  signed: 'walks-state-signed',
  discarded: 'walks-state-discarded',
};

/** Walks that are drawn at once, and counted: a page of paper. The others are asked for. */
const SHOWN = 50;

/** Every kept walk: open it again, set several side by side, bring in, back up. */
export default function Walks() {
  const house = useHouse();
  const walks = useLive(house.walks);
  const [most, setMost] = useState(SHOWN);
  const shown = walks.slice(0, most);
  useCounted(shown);
  const [picked, setPicked] = useState<ReadonlySet<string>>(new Set());
  const { tell, say } = useTell();
  const t = useText();
  const [, go] = useLocation();
  const backUp = async () => {
    const outcome = await house.backUp();
    if (tell(outcome) && outcome.ok) {
      await handOut(outcome.value.name, outcome.value.blob, true);
      say(t('walks-backed-up', { file: outcome.value.name }));
    }
  };
  return (
    <div className="walks">
      <header className="head">
        <h1>{t('place-walks')}</h1>
      </header>
      {walks.length === 0 ? (
        <p>
          <Woven id="walks-none" of={{ begin: <Link href="/">{t('walks-begin')}</Link> }} />
        </p>
      ) : (
        <>
          <ul className="walk-list lines">
            {shown.map((w) => (
              <li key={w.id}>
                <label className="pick-walk">
                  <input
                    type="checkbox"
                    checked={picked.has(w.id)}
                    aria-label={t('walks-side', { aircraft: w.aircraft, when: dateTime(w.begun) })}
                    onChange={(e) => {
                      const next = new Set(picked);
                      if (e.target.checked) next.add(w.id);
                      else next.delete(w.id);
                      setPicked(next);
                    }}
                  />
                </label>
                <Link className="walk-line" href={`/sheet/${w.id}`}>
                  <Mark of={w.open === 0 ? 'spoken' : 'part'} label="" />
                  <strong>{w.aircraft}</strong>
                  <span className="quiet">{dateTime(w.begun)}</span>
                  <span className="quiet">
                    {w.seconds !== null
                      ? clock(w.seconds)
                      : w.open === null
                        ? ''
                        : t('walks-untimed')}
                  </span>
                  <span>{w.pilot ?? ''}</span>
                  <span>{openWords(w.open, t)}</span>
                  <span>
                    {w.findings === 0 || w.findings === null
                      ? ''
                      : t('findings', { n: w.findings })}
                  </span>
                  <span className="quiet">
                    {w.brought
                      ? t('walks-brought', { state: t(STATES[w.state]) })
                      : t(STATES[w.state])}
                  </span>
                </Link>
                <Link
                  className="press"
                  href={`/debrief/${w.id}`}
                  aria-label={t('walks-debrief', { aircraft: w.aircraft, when: dateTime(w.begun) })}
                >
                  {t('sheet-debrief')}
                </Link>
              </li>
            ))}
          </ul>
          <div className="tools">
            {walks.length > shown.length && (
              <button type="button" className="press" onClick={() => setMost(most + SHOWN)}>
                {t('walks-older', { shown: shown.length, all: walks.length })}
              </button>
            )}
            <button
              type="button"
              className="press"
              disabled={picked.size < 2}
              onClick={() => go(`/several/${[...picked].join(',')}`)}
            >
              {picked.size < 2 ? t('walks-pick') : t('walks-compare', { n: picked.size })}
            </button>
          </div>
        </>
      )}
      <div className="two">
        <BringIn />
        <section className="keep">
          <h2>{t('walks-keep')}</h2>
          <p>{t('walks-keep-note')}</p>
          <div className="tools">
            <button type="button" className="press" onClick={() => void backUp()}>
              {t('walks-back-up')}
            </button>
          </div>
        </section>
      </div>
    </div>
  );
}
