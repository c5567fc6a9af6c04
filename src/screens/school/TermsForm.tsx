import { useState } from 'react';
import type { Terms } from '#shared/school';
import { useTell } from '../parts/Tell.tsx';
import type { SchoolServices } from '../services.ts';
import { termsInWords } from './words.ts';

/** Whose voice is kept, how long, and who may hear it. */
export function TermsForm({ school, terms }: { school: SchoolServices; terms: Terms }) {
  const [next, setNext] = useState(terms);
  const { tell, say } = useTell();
  const hears = (who: Terms['hear'][number], on: boolean) =>
    setNext({ ...next, hear: [...next.hear.filter((h) => h !== who), ...(on ? [who] : [])] });
  const save = async () => {
    if (tell(await school.setTerms(next)))
      say('Who joins from now on reads these sentences first.');
  };
  return (
    <section aria-label="Privacy">
      <h2>Privacy</h2>
      <div className="fields">
        <label className="tick">
          <input
            type="checkbox"
            checked={next.sound}
            onChange={(e) => setNext({ ...next, sound: e.target.checked })}
          />
          <span>The school keeps sound</span>
        </label>
        <label className="field">
          <span>Days until it is erased; empty: never by itself</span>
          <input
            value={next.days ?? ''}
            inputMode="numeric"
            onChange={(e) => {
              const days = Number(e.target.value);
              setNext({ ...next, days: Number.isInteger(days) && days > 0 ? days : null });
            }}
          />
        </label>
        {(['instructor', 'chief'] as const).map((who) => (
          <label className="tick" key={who}>
            <input
              type="checkbox"
              checked={next.hear.includes(who)}
              onChange={(e) => hears(who, e.target.checked)}
            />
            <span>
              {who === 'instructor' ? 'Instructors may hear their students' : 'The chief may hear'}
            </span>
          </label>
        ))}
      </div>
      <ul className="terms">
        {termsInWords(next).map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      <div className="tools">
        <button type="button" className="press" onClick={() => void save()}>
          Keep these terms
        </button>
      </div>
    </section>
  );
}
