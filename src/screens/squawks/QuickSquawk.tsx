import { useEffect, useState, type FormEvent } from 'react';
import { Link } from 'wouter';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { Mark } from '../parts/Mark.tsx';
import { useTell } from '../parts/Tell.tsx';
import type { Dictated, Dictation, FiledSquawk } from '../services.ts';
import './squawks.css';

/** A fault reported in ten seconds, with or without a walk: say it, hear it back, done. */
export default function QuickSquawk({ aircraft }: { aircraft: string | null }) {
  const house = useHouse();
  const { tell } = useTell();
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
        <h1>Squawk</h1>
        <p>
          Say the part, its side, what is wrong and how bad: “left main tyre, flat spot with cords
          showing, ground it”.
        </p>
      </header>
      <label className="field">
        <span>Aircraft</span>
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
          <h2 id="asked">Which catalogue has {asked.aircraft}?</h2>
          <p>
            It is new here. A squawk is read with its own catalogue only; this is asked once, and
            nothing of what you said is lost.
          </p>
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
              None of these
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
              <span>In your own words</span>
              <textarea rows={3} value={typed} onChange={(e) => setTyped(e.target.value)} />
            </label>
            <button
              type="submit"
              className="press main glove"
              disabled={busy || typed.trim() === '' || on.trim() === ''}
            >
              File it
            </button>
          </form>
        </>
      ) : (
        <section className="filed" role="status">
          <h2>
            <Mark of="finding" label="" /> Filed: {filed.title}
          </h2>
          <p>{filed.readBack}</p>
          {filed.also !== undefined && <p>Filed as {filed.also.length + 1} squawks.</p>}
          {filed.unplaced !== null && (
            <p>
              Kept as said: <span className="words">{filed.unplaced}</span>
            </p>
          )}
          <div className="tools">
            <button type="button" className="press main glove" onClick={() => setFiled(null)}>
              Another
            </button>
            <Link
              className="press glove"
              href={`/squawks/${encodeURIComponent(filed.aircraft ?? on)}`}
            >
              All of {filed.aircraft ?? on}
            </Link>
            {walking !== null && (
              <Link className="press glove" href="/walk">
                To the walk
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
  const now = useLive(dictation.now);
  // Leaving the screen must not leave the microphone open.
  useEffect(() => () => dictation.stop(), [dictation]);
  const on = now.state === 'listening' || now.state === 'starting';
  return (
    <section className="dictate" aria-label="Dictate">
      <button
        type="button"
        className={`press glove ${on ? 'strong' : 'main'}`}
        onClick={() => {
          if (!on) return dictation.start(aircraft);
          return void dictation.done().then(file);
        }}
      >
        {now.state === 'starting' ? 'Starting …' : on ? 'File what I said' : 'Say it'}
      </button>
      <p className="dictated" role="status">
        {now.why ?? now.words}
      </p>
    </section>
  );
}
