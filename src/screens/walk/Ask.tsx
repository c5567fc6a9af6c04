import type { Question } from '#shared/question';
import { useHouse } from '../parts/house.ts';
import { Mark } from '../parts/Mark.tsx';
import { useTell } from '../parts/Tell.tsx';
import { capital } from '../parts/words.ts';

/** The one question that waits. It takes the place of the open checks: one thing to read. */
export function Ask({ question }: { question: Question }) {
  const house = useHouse();
  const { tell } = useTell();
  return (
    <section className="ask-card" aria-label="Question">
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
      <p className="small quiet">
        Say it, type it or press it. Until then the check stays in question.
      </p>
    </section>
  );
}
