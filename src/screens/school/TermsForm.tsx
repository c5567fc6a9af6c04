import { useState } from 'react';
import type { Terms } from '#shared/school';
import { useTell } from '../parts/Tell.tsx';
import type { SchoolServices } from '../services.ts';
import { useText } from '../text/text.ts';
import { PASSED_ON, termsInWords } from './words.ts';

const WAYS = ['none', 'own', 'aircraft'] as const;

/** Whose voice is kept, how long, and who may hear it. */
export function TermsForm({ school, terms }: { school: SchoolServices; terms: Terms }) {
  const [next, setNext] = useState(terms);
  const { tell, say } = useTell();
  const t = useText();
  const hears = (who: Terms['hear'][number], on: boolean) =>
    setNext({ ...next, hear: [...next.hear.filter((h) => h !== who), ...(on ? [who] : [])] });
  const save = async () => {
    if (tell(await school.setTerms(next))) say(t('terms-saved'));
  };
  return (
    <section aria-label={t('terms')}>
      <h2>{t('terms')}</h2>
      <div className="fields">
        <label className="tick">
          <input
            type="checkbox"
            checked={next.sound}
            onChange={(e) => setNext({ ...next, sound: e.target.checked })}
          />
          <span>{t('terms-sound')}</span>
        </label>
        <label className="field">
          <span>{t('terms-days')}</span>
          <input
            value={next.days ?? ''}
            inputMode="numeric"
            onChange={(e) => {
              const days = Number(e.target.value);
              setNext({ ...next, days: Number.isInteger(days) && days > 0 ? days : null });
            }}
          />
        </label>
        <label className="field">
          <span>{t('terms-phrases')}</span>
          <select
            value={next.phrases}
            onChange={(e) => {
              const phrases = WAYS.find((p) => p === e.target.value);
              if (phrases !== undefined) setNext({ ...next, phrases });
            }}
          >
            {WAYS.map((p) => (
              <option key={p} value={p}>
                {t(PASSED_ON[p])}
              </option>
            ))}
          </select>
        </label>
        {(['instructor', 'chief'] as const).map((who) => (
          <label className="tick" key={who}>
            <input
              type="checkbox"
              checked={next.hear.includes(who)}
              onChange={(e) => hears(who, e.target.checked)}
            />
            <span>{t(who === 'instructor' ? 'terms-instructors' : 'terms-chief')}</span>
          </label>
        ))}
      </div>
      <ul className="terms">
        {termsInWords(next, t).map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      <div className="tools">
        <button type="button" className="press" onClick={() => void save()}>
          {t('terms-save')}
        </button>
      </div>
    </section>
  );
}
