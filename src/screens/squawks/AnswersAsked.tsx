import type { AnswersTaken, AnswersWay } from '../services.ts';
import { useText, type Language } from '../text/text.ts';

export interface Asked {
  readonly file: File;
  readonly how: AnswersWay;
  readonly taken: AnswersTaken;
}

/** What has to be asked about a mechanic's file: nothing in it is guessed, and nothing lost. */
export function AnswersAsked({
  asked: { file, how, taken },
  again,
  leave,
}: {
  asked: Asked;
  again: (how: AnswersWay) => void;
  leave: () => void;
}) {
  const t = useText();
  const { asks, doubts } = taken;
  if (asks !== undefined) {
    return (
      <section className="asked" aria-labelledby="asked-dates">
        <h2 id="asked-dates">{t('answers-which', { written: asks.written, file: file.name })}</h2>
        <p>{t('answers-first')}</p>
        <div className="tools">
          <button
            type="button"
            className="press"
            onClick={() => again({ ...how, order: 'day-first' })}
          >
            {longDay(asks.dayFirst, t.language)}
          </button>
          <button
            type="button"
            className="press"
            onClick={() => again({ ...how, order: 'month-first' })}
          >
            {longDay(asks.monthFirst, t.language)}
          </button>
          <button type="button" className="press" onClick={leave}>
            {t('answers-leave-file')}
          </button>
        </div>
      </section>
    );
  }
  if (doubts === undefined) return null;
  return (
    <section className="asked" aria-labelledby="asked-doubts">
      <h2 id="asked-doubts">{t('answers-not-yet', { file: file.name })}</h2>
      <ul className="lines">
        {doubts.map((why) => (
          <li key={why}>{t.said(why)}</li>
        ))}
      </ul>
      <div className="tools">
        <button type="button" className="press" onClick={() => again({ ...how, doubted: true })}>
          {t('answers-take')}
        </button>
        <button type="button" className="press" onClick={leave}>
          {t('answers-leave')}
        </button>
      </div>
    </section>
  );
}

/** Where English is spoken as our sentences are: the day stands before the month. */
const LOCALES: Readonly<Record<Language, string>> = { en: 'en-GB', de: 'de' };

/** "3 April 2026": it cannot be taken for another day. */
function longDay(day: string, language: Language): string {
  return new Date(`${day}T12:00:00Z`).toLocaleDateString(LOCALES[language], {
    day: 'numeric',
    month: 'long',
    year: 'numeric',
    timeZone: 'UTC',
  });
}
