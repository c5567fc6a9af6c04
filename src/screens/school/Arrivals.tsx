import { Link } from 'wouter';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { dateTime } from '../parts/words.ts';
import { countWords, useCounted } from '../walks/counted.ts';
import type { SchoolServices, SchoolView } from '../services.ts';
import { useText } from '../text/text.ts';
import { useAsked } from './useAsked.ts';

const STATES = {
  walking: 'arrivals-walking',
  finished: 'arrivals-finished',
  signed: 'arrivals-signed',
} as const;

/** Walks as they arrive: where each is, and what is open on it as far as it is here. */
export function Arrivals({ school, view }: { school: SchoolServices; view: SchoolView }) {
  const t = useText();
  const answer = useAsked(() => school.walks(null), view.news);
  const here = useLive(useHouse().walks);
  useCounted(
    here.filter((w) => answer?.ok === true && answer.value.walks.some((v) => v.id === w.id)),
  );
  if (answer === null) return null;
  if (!answer.ok) return <p className="notice">{t.said(answer.error)}</p>;
  return (
    <section aria-label={t('arrivals-label')}>
      <h2>{t('place-walks')}</h2>
      {answer.value.walks.length === 0 && <p className="quiet">{t('arrivals-none')}</p>}
      <ul className="lines arrivals">
        {answer.value.walks.map((walk) => {
          const line = here.find((w) => w.id === walk.id);
          return (
            <li key={walk.id} data-walk={walk.id} data-state={walk.state}>
              <strong>{walk.aircraft}</strong>
              <span>{walk.pilot ?? t('arrivals-nameless')}</span>
              <span className="quiet">{dateTime(walk.begun)}</span>
              <span>
                {walk.state === 'walking' && walk.station !== null
                  ? t('arrivals-at', { state: t(STATES[walk.state]), station: walk.station })
                  : t(STATES[walk.state])}
              </span>
              <span>
                {line === undefined
                  ? t('arrivals-events', { n: walk.events })
                  : countWords(line, t)}
              </span>
              {walk.open && line !== undefined && (
                <Link className="press" href={`/debrief/${walk.id}`}>
                  {t('sheet-debrief')}
                </Link>
              )}
            </li>
          );
        })}
      </ul>
    </section>
  );
}
