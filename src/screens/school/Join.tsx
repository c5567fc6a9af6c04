import { useEffect, useState } from 'react';
import { useLocation } from 'wouter';
import type { Invited } from '#shared/school';
import { Waiting } from '../parts/Frame.tsx';
import { useHouse } from '../parts/house.ts';
import { useTell } from '../parts/Tell.tsx';
import type { Outcome } from '../services.ts';
import { ROLE_WORDS, termsInWords } from './words.ts';
import './school.css';

/** Where the code leads: what the school keeps, and a yes to it. */
export default function Join({ code }: { code: string }) {
  const { school } = useHouse();
  const [, go] = useLocation();
  const { tell } = useTell();
  const [invited, setInvited] = useState<Outcome<Invited> | null>(null);
  const [name, setName] = useState('');
  const [busy, setBusy] = useState(false);
  useEffect(() => {
    let gone = false;
    void school?.invited(code).then((outcome) => {
      if (gone) return;
      setInvited(outcome);
      if (outcome.ok) setName(outcome.value.person ?? 'Phone');
    });
    return () => {
      gone = true;
    };
  }, [school, code]);
  if (school === undefined) return <p>This app cannot be in a school.</p>;
  if (invited === null) return <Waiting what="Asking the school …" />;
  if (!invited.ok) return <p className="notice refused">{invited.error}</p>;
  const { value } = invited;
  const join = async () => {
    setBusy(true);
    const outcome = await school.join(code, value, name.trim() === '' ? 'Phone' : name.trim());
    setBusy(false);
    if (tell(outcome)) go('/school');
  };
  return (
    <div className="school">
      <header className="head">
        <h1>Join {value.name}</h1>
      </header>
      <p>
        {value.person === null
          ? 'As a phone that the pilots share.'
          : `As ${value.person}: ${value.roles.map((r) => ROLE_WORDS[r]).join(', ')}.`}
      </p>
      <ul className="terms">
        {termsInWords(value.terms).map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      <label className="field">
        <span>What this device is called at the desk</span>
        <input value={name} maxLength={80} onChange={(e) => setName(e.target.value)} />
      </label>
      <div className="tools">
        <button type="button" className="press main" disabled={busy} onClick={() => void join()}>
          I have read this: join
        </button>
        <button type="button" className="press" onClick={() => go('/')}>
          Do not join
        </button>
      </div>
    </div>
  );
}
