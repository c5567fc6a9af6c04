import { useEffect, useState } from 'react';
import { useLocation } from 'wouter';
import type { Invited } from '#shared/school';
import { Waiting } from '../parts/Frame.tsx';
import { useHouse } from '../parts/house.ts';
import { useTell } from '../parts/Tell.tsx';
import type { Outcome } from '../services.ts';
import { useText } from '../text/text.ts';
import { rolesInWords, termsInWords } from './words.ts';
import './school.css';

/** Where the code leads: what the school keeps, and a yes to it. */
export default function Join({ code }: { code: string }) {
  const { school } = useHouse();
  const [, go] = useLocation();
  const { tell } = useTell();
  const t = useText();
  const [invited, setInvited] = useState<Outcome<Invited> | null>(null);
  /** null: as the school proposes. */
  const [name, setName] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  useEffect(() => {
    let gone = false;
    void school?.invited(code).then((outcome) => {
      if (!gone) setInvited(outcome);
    });
    return () => {
      gone = true;
    };
  }, [school, code]);
  if (school === undefined) return <p>{t('school-cannot')}</p>;
  if (invited === null) return <Waiting what={t('join-asking')} />;
  if (!invited.ok) return <p className="notice refused">{t.said(invited.error)}</p>;
  const { value } = invited;
  const called = name ?? value.person ?? t('join-phone');
  const join = async () => {
    setBusy(true);
    const outcome = await school.join(
      code,
      value,
      called.trim() === '' ? t('join-phone') : called.trim(),
    );
    setBusy(false);
    if (tell(outcome)) go('/school');
  };
  return (
    <div className="school">
      <header className="head">
        <h1>{t('join', { school: value.name })}</h1>
      </header>
      <p>
        {value.person === null
          ? t('join-shared')
          : t('join-as', { person: value.person, roles: rolesInWords(value.roles, t) })}
      </p>
      <ul className="terms">
        {termsInWords(value.terms, t).map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      <label className="field">
        <span>{t('join-called')}</span>
        <input value={called} maxLength={80} onChange={(e) => setName(e.target.value)} />
      </label>
      <div className="tools">
        <button type="button" className="press main" disabled={busy} onClick={() => void join()}>
          {t('join-yes')}
        </button>
        <button type="button" className="press" onClick={() => go('/')}>
          {t('join-no')}
        </button>
      </div>
    </div>
  );
}
