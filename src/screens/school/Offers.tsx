import { useTell } from '../parts/Tell.tsx';
import type { LearnedLine, SchoolServices, SchoolView } from '../services.ts';
import { useText } from '../text/text.ts';

/** What was learned on other devices of the school: nothing of it counts here without a yes. */
export function Offers({ school, view }: { school: SchoolServices; view: SchoolView }) {
  const t = useText();
  const { tell, say } = useTell();
  if (view.offers.length === 0) return null;
  const take = async (aircraft: string) => {
    const outcome = await school.takePhrases(aircraft);
    if (tell(outcome) && outcome.ok) say(outcome.value.text);
  };
  return (
    <section aria-label={t('offers')}>
      <h2>{t('offers')}</h2>
      <p>{t('offers-what')}</p>
      {view.offers.map(({ aircraft, lines, forgets }) => (
        <details key={aircraft} data-offer={aircraft}>
          <summary>{t('offers-of', { aircraft, n: lines.length + forgets.length })}</summary>
          <ul className="lines">
            {lines.map((line) => (
              <Line key={line.id} line={line} />
            ))}
            {forgets.map((line) => (
              <Line key={line.id} line={line} forgotten />
            ))}
          </ul>
          <div className="tools">
            <button type="button" className="press strong" onClick={() => void take(aircraft)}>
              {t('offers-take', { aircraft })}
            </button>
            <button
              type="button"
              className="press"
              onClick={() => void school.leavePhrases(aircraft).then(tell)}
            >
              {t('learned-leave')}
            </button>
          </div>
        </details>
      ))}
    </section>
  );
}

function Line({ line, forgotten = false }: { line: LearnedLine; forgotten?: boolean }) {
  const t = useText();
  return (
    <li>
      <strong>{t('quoted', { words: line.phrase })}</strong>
      <span>{line.means}</span>
      <span className="quiet">
        {[
          ...(forgotten ? [t('offers-forgotten')] : []),
          ...(line.speaker === null ? [] : [line.speaker]),
          t('learned-when', { day: line.on }),
        ].join(', ')}
      </span>
    </li>
  );
}
