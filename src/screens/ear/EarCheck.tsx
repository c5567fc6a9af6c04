import { useEffect, useRef } from 'react';
import { Link } from 'wouter';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { Mark } from '../parts/Mark.tsx';
import type { EarChecking, EarCheckView } from '../services.ts';
import { useText } from '../text/text.ts';
import './ear-check.css';

/** Ten seconds before a walk: three phrases of the aircraft, read once, so that the ear knows the voice. */
export default function EarCheck({ catalogue }: { catalogue: string | null }) {
  const house = useHouse();
  const choices = useLive(house.choices);
  const walk = useLive(house.walk);
  const t = useText();
  const of =
    walk?.catalogue.id ?? catalogue ?? choices.last?.catalogue ?? choices.catalogues[0]?.id;
  const back = walk === null ? '/' : '/walk';
  return (
    <div className="ear-check">
      <header className="head">
        <h1>{t('check-title')}</h1>
        <p>{t('check-what')}</p>
      </header>
      {house.earCheck === undefined || of === undefined ? (
        <p>{t('check-none')}</p>
      ) : (
        <Check check={house.earCheck} catalogue={of} />
      )}
      <p>
        <Link className="press" href={back}>
          {t(walk === null ? 'check-back' : 'check-back-walk')}
        </Link>
      </p>
    </div>
  );
}

function Check({ check, catalogue }: { check: EarChecking; catalogue: string }) {
  const now = useLive(check.now);
  const t = useText();
  // Left in the middle nothing is kept, and what listened before listens again.
  useEffect(() => () => void check.stop(), [check]);
  const begin = (long: boolean) => check.start(catalogue, long);
  const resting = now.state === 'off' || now.state === 'done' || now.state === 'trouble';
  return (
    <>
      {now.phrases.length > 0 && <Phrases now={now} />}
      {(now.state === 'listening' || now.state === 'hearing') && <Level check={check} />}
      <div role="status">
        <p className="check-told">{t(told(now))}</p>
        {now.trouble !== undefined && <p>{t.said(now.trouble)}</p>}
        {now.sound?.faint === true && <p>{t('unheard-faint')}</p>}
        {now.sound?.noisy === true && now.sound.faint !== true && <p>{t('unheard-noise')}</p>}
      </div>
      <div className="tools">
        {now.state === 'done' && now.why === 'other' && (
          <button type="button" className="press main" onClick={() => void check.keep()}>
            {t('check-keep')}
          </button>
        )}
        {resting && (
          <>
            <button
              type="button"
              className={now.state === 'off' ? 'press main' : 'press'}
              onClick={() => begin(false)}
            >
              {t(now.state === 'off' ? 'check-begin' : 'check-again')}
            </button>
            <button type="button" className="press" onClick={() => begin(true)}>
              {t('check-long')}
            </button>
            {(now.kept || check.kept()) && (
              <button type="button" className="press" onClick={() => void check.forget()}>
                {t('check-forget')}
              </button>
            )}
          </>
        )}
      </div>
    </>
  );
}

/** What is told of it, one clear sentence. */
function told({ state, why }: EarCheckView): string {
  if (state === 'done') return why === null ? 'check-kept' : `check-why-${why}`;
  return `check-${state}`;
}

function Phrases({ now }: { now: EarCheckView }) {
  const t = useText();
  return (
    <ol className="check-phrases">
      {now.phrases.map(({ text, understood }, i) => (
        <li key={text} className={i === now.at ? 'is-now' : ''} aria-current={i === now.at}>
          {understood !== null && <Mark of={understood ? 'spoken' : 'question'} label="" />}
          <span>{t('quoted', { words: text })}</span>
          {understood !== null && (
            <span className="small"> {t(understood ? 'check-understood' : 'check-not')}</span>
          )}
        </li>
      ))}
    </ol>
  );
}

/** The voice as a line. Set through the style object, so that the page is not drawn again at every sound. */
function Level({ check }: { check: EarChecking }) {
  const bar = useRef<HTMLSpanElement>(null);
  useEffect(() => {
    const show = () => bar.current?.style.setProperty('--level', check.now.get().level.toFixed(3));
    show();
    return check.now.subscribe(show);
  }, [check]);
  return <span className="check-level" ref={bar} aria-hidden="true" />;
}
