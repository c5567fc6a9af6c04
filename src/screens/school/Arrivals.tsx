import { Link } from 'wouter';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { dateTime, many } from '../parts/words.ts';
import { countWords, useCounted } from '../walks/counted.ts';
import type { SchoolServices, SchoolView } from '../services.ts';
import { useAsked } from './useAsked.ts';

const STATES = { walking: 'walking now', finished: 'finished', signed: 'signed' } as const;

/** Walks as they arrive: where each is, and what is open on it as far as it is here. */
export function Arrivals({ school, view }: { school: SchoolServices; view: SchoolView }) {
  const answer = useAsked(() => school.walks(null), view.news);
  const here = useLive(useHouse().walks);
  useCounted(
    here.filter((w) => answer?.ok === true && answer.value.walks.some((v) => v.id === w.id)),
  );
  if (answer === null) return null;
  if (!answer.ok) return <p className="notice">{answer.error}</p>;
  return (
    <section aria-label="Walks as they arrive">
      <h2>Walks</h2>
      {answer.value.walks.length === 0 && <p className="quiet">None has come yet.</p>}
      <ul className="lines arrivals">
        {answer.value.walks.map((walk) => {
          const line = here.find((w) => w.id === walk.id);
          return (
            <li key={walk.id} data-walk={walk.id} data-state={walk.state}>
              <strong>{walk.aircraft}</strong>
              <span>{walk.pilot ?? 'no name'}</span>
              <span className="quiet">{dateTime(walk.begun)}</span>
              <span>
                {STATES[walk.state]}
                {walk.state === 'walking' && walk.station !== null && `, at ${walk.station}`}
              </span>
              <span>{line === undefined ? many(walk.events, 'event') : countWords(line)}</span>
              {walk.open && line !== undefined && (
                <Link className="press" href={`/debrief/${walk.id}`}>
                  Debrief
                </Link>
              )}
            </li>
          );
        })}
      </ul>
    </section>
  );
}
