import { Link } from 'wouter';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { dateTime } from '../parts/words.ts';
import { countWords, useCounted } from '../walks/counted.ts';
import './school.css';

/** Walks set side by side at most: more do not fit a screen. */
const SIDE_BY_SIDE = 8;

/** One person's walks, as far as whoever looks may open them. */
export default function Student({ name }: { name: string }) {
  const walks = useLive(useHouse().walks).filter(
    (w) => (w.pilot ?? '').trim().toLowerCase() === name.trim().toLowerCase(),
  );
  useCounted(walks);
  const several = walks.slice(0, SIDE_BY_SIDE).map((w) => w.id);
  return (
    <div className="school">
      <header className="head">
        <h1>{name}</h1>
      </header>
      {walks.length === 0 && <p>No walk of {name} is here, or none that you may open.</p>}
      <ul className="lines">
        {walks.map((w) => (
          <li key={w.id}>
            <strong>{w.aircraft}</strong>
            <span>{dateTime(w.begun)}</span>
            <span>{countWords(w)}</span>
            <Link className="press" href={`/debrief/${w.id}`}>
              Debrief
            </Link>
          </li>
        ))}
      </ul>
      {several.length > 1 && (
        <Link className="press" href={`/several/${several.join(',')}`}>
          The last {several.length} side by side
        </Link>
      )}
    </div>
  );
}
