import type { Question } from '#shared/question';
import { useHouse } from '../parts/house.ts';
import { Mark } from '../parts/Mark.tsx';
import { useTell } from '../parts/Tell.tsx';
import { capital } from '../parts/words.ts';
import { useText } from '../text/text.ts';

/** The one question that waits: first and largest, above everything else that is read. */
export function Ask({ question }: { question: Question }) {
  const house = useHouse();
  const { tell } = useTell();
  const t = useText();
  return (
    <section className="ask-card" aria-label={t('question')}>
      <h2>
        <Mark of="question" label="" />
        <span role="alert">{question.text}</span>
      </h2>
      <div className="ask-options">
        {question.options.map((o, i) => (
          <button
            key={o.label}
            type="button"
            className="press glove"
            onClick={() => void house.answer(question.id, i).then(tell)}
          >
            {capital(o.label)}
          </button>
        ))}
      </div>
      <p className="small quiet">{t('question-how')}</p>
    </section>
  );
}
