import { useState } from 'react';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { useTell } from '../parts/Tell.tsx';
import { useText } from '../text/text.ts';
import './school.css';

/** On a phone that is in: signs a desk in as its holder, once that was asked for. */
export default function Let({ code }: { code: string }) {
  const { school } = useHouse();
  const { tell } = useTell();
  const t = useText();
  const [given, setGiven] = useState(code);
  const [done, setDone] = useState<string | null>(null);
  if (school === undefined) return <p>{t('school-cannot')}</p>;
  return <LetForm {...{ school, given, setGiven, done, setDone, tell }} />;
}

type Parts = {
  school: NonNullable<ReturnType<typeof useHouse>['school']>;
  given: string;
  setGiven: (code: string) => void;
  done: string | null;
  setDone: (name: string) => void;
  tell: ReturnType<typeof useTell>['tell'];
};

function LetForm({ school, given, setGiven, done, setDone, tell }: Parts) {
  const t = useText();
  const holder = useLive(school.view).hello?.person ?? null;
  if (done !== null) return <p role="status">{t('let-done', { desk: done })}</p>;
  const sign = async () => {
    const outcome = await school.letDeskIn(given.trim());
    if (tell(outcome) && outcome.ok) setDone(outcome.value.name);
  };
  return (
    <div className="school">
      <header className="head">
        <h1>{t('school-let')}</h1>
      </header>
      <p>{holder === null ? t('let-what-nameless') : t('let-what', { name: holder.name })}</p>
      <label className="field">
        <span>{t('let-code')}</span>
        <input
          value={given}
          inputMode="numeric"
          autoComplete="one-time-code"
          onChange={(e) => setGiven(e.target.value)}
        />
      </label>
      <div className="tools">
        <button type="button" className="press main" onClick={() => void sign()}>
          {t('let-yes')}
        </button>
      </div>
    </div>
  );
}
