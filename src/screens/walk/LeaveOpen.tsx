import { useState, type FormEvent } from 'react';
import { useHouse } from '../parts/house.ts';
import { useTell } from '../parts/Tell.tsx';
import { capital } from '../parts/words.ts';
import { useText } from '../text/text.ts';

/** Reasons that are given most, one touch each; any other is typed. Never set aside without one. */
const REASONS = ['reason-not-fitted', 'reason-not-reachable', 'reason-not-asked'];

/** Sets a check aside with the reason why. */
export function LeaveOpen({ check, done }: { check: string; done: () => void }) {
  const house = useHouse();
  const { tell } = useTell();
  const t = useText();
  const [own, setOwn] = useState('');
  const put = (reason: string) => void house.setAside(check, reason).then((o) => tell(o) && done());
  const send = (event: FormEvent) => {
    event.preventDefault();
    if (own.trim() !== '') put(own.trim());
  };
  return (
    <fieldset className="aside">
      <legend>
        <h3>{t('card-why')}</h3>
      </legend>
      <div className="tools">
        {REASONS.map((id) => (
          <button key={id} type="button" className="press" onClick={() => put(t(id))}>
            {capital(t(id))}
          </button>
        ))}
      </div>
      <form className="aside-own" onSubmit={send}>
        <label className="field">
          <span>{t('card-own-reason')}</span>
          <input value={own} onChange={(e) => setOwn(e.target.value)} autoComplete="off" />
        </label>
        <button type="submit" className="press" disabled={own.trim() === ''}>
          {t('card-set-aside')}
        </button>
      </form>
    </fieldset>
  );
}
