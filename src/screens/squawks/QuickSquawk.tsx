import { useEffect, useState, type FormEvent } from 'react';
import { Link } from 'wouter';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { Mark } from '../parts/Mark.tsx';
import { useTell } from '../parts/Tell.tsx';
import { Woven } from '../parts/Woven.tsx';
import type { Dictated, Dictation, FiledSquawk } from '../services.ts';
import { useText } from '../text/text.ts';
import './squawks.css';

/** A fault reported in ten seconds, with or without a walk: say it, hear it back, done. */
export default function QuickSquawk({ aircraft }: { aircraft: string | null }) {
  const house = useHouse();
  const { tell } = useTell();
  const t = useText();
  const choices = useLive(house.choices);
  const walking = useLive(house.walk);
  const [on, setOn] = useState(aircraft || walking?.aircraft || choices.last?.aircraft || '');
  const [typed, setTyped] = useState('');
  const [filed, setFiled] = useState<FiledSquawk | null>(null);
  const [busy, setBusy] = useState(false);
  /** An aircraft that is new here, and what was said of it. */
  const [asked, setAsked] = useState<{ aircraft: string; said: string | Dictated } | null>(null);
  const file = async (said: string | Dictated, catalogue?: string | null) => {
    if (busy) return;
    setBusy(true);
    const outcome = await house.fileSquawk(on.trim(), said, catalogue);
    setBusy(false);
    setAsked(null);
    if (tell(outcome) && outcome.ok) {
      if (outcome.value.asks !== undefined) {
        setAsked({ aircraft: outcome.value.aircraft, said });
        return;
      }
      setFiled(outcome.value);
      setTyped('');
    } else if (typeof said !== 'string') {
      // What was said is not lost with the refusal: it can be filed from here.
      setTyped(said.heard.map((h) => h.text).join(' '));
    }
  };
  const send = (event: FormEvent) => {
    event.preventDefault();
    void file(typed);
  };
  return (
    <div className="quick">
      <header className="head">
        <h1>{t('quick-title')}</h1>
        <p>{t('quick-how')}</p>
      </header>
      <label className="field">
        <span>{t('aircraft')}</span>
        <input
          value={on}
          list="known-aircraft"
          autoComplete="off"
          onChange={(e) => setOn(e.target.value)}
        />
      </label>
      <datalist id="known-aircraft">
        {choices.aircraft.map((a) => (
          <option key={a.aircraft} value={a.aircraft} />
        ))}
      </datalist>
      {asked !== null ? (
        <section className="asked" aria-labelledby="asked">
          <h2 id="asked">{t('quick-which', { aircraft: asked.aircraft })}</h2>
          <p>{t('quick-which-why')}</p>
          <div className="choices">
            {choices.catalogues.map((c) => (
              <button
                key={c.id}
                type="button"
                className="press glove"
                disabled={busy}
                onClick={() => void file(asked.said, c.id)}
              >
                {c.name}
              </button>
            ))}
            <button
              type="button"
              className="press glove"
              disabled={busy}
              onClick={() => void file(asked.said, null)}
            >
              {t('quick-no-catalogue')}
            </button>
          </div>
        </section>
      ) : filed === null ? (
        <>
          {house.dictation !== undefined && (
            <Dictate dictation={house.dictation} aircraft={on} file={file} />
          )}
          <form className="quick-typed" onSubmit={send}>
            <label className="field">
              <span>{t('quick-words')}</span>
              <textarea rows={3} value={typed} onChange={(e) => setTyped(e.target.value)} />
            </label>
            <button
              type="submit"
              className="press main glove"
              disabled={busy || typed.trim() === '' || on.trim() === ''}
            >
              {t('quick-file')}
            </button>
          </form>
        </>
      ) : (
        <section className="filed" role="status">
          <h2>
            <Mark of="finding" label="" /> {t('quick-filed', { title: filed.title })}
          </h2>
          <p>{t.said(filed.readBack)}</p>
          {filed.also !== undefined && <p>{t('quick-filed-as', { n: filed.also.length + 1 })}</p>}
          {filed.unplaced !== null && (
            <p>
              <Woven
                id="quick-unplaced"
                of={{ words: <span className="words">{filed.unplaced}</span> }}
              />
            </p>
          )}
          <div className="tools">
            <button type="button" className="press main glove" onClick={() => setFiled(null)}>
              {t('quick-another')}
            </button>
            <Link
              className="press glove"
              href={`/squawks/${encodeURIComponent(filed.aircraft ?? on)}`}
            >
              {t('quick-all', { aircraft: filed.aircraft ?? on })}
            </Link>
            {walking !== null && (
              <Link className="press glove" href="/walk">
                {t('to-the-walk')}
              </Link>
            )}
          </div>
        </section>
      )}
    </div>
  );
}

function Dictate({
  dictation,
  aircraft,
  file,
}: {
  dictation: Dictation;
  aircraft: string;
  file: (said: Dictated) => Promise<void>;
}) {
  const t = useText();
  const now = useLive(dictation.now);
  // Leaving the screen must not leave the microphone open.
  useEffect(() => () => dictation.stop(), [dictation]);
  const on = now.state === 'listening' || now.state === 'starting';
  return (
    <section className="dictate" aria-label={t('quick-dictate')}>
      <button
        type="button"
        className={`press glove ${on ? 'strong' : 'main'}`}
        onClick={() => {
          if (!on) return dictation.start(aircraft);
          return void dictation.done().then(file);
        }}
      >
        {t(now.state === 'starting' ? 'quick-starting' : on ? 'quick-file-said' : 'quick-say')}
      </button>
      <p className="dictated" role="status">
        {now.why === null ? now.words : t.said(now.why)}
      </p>
    </section>
  );
}
