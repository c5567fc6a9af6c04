import { useState } from 'react';
import { Link, useLocation } from 'wouter';
import { handOut } from '../parts/handOut.ts';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { Mark } from '../parts/Mark.tsx';
import { useTell } from '../parts/Tell.tsx';
import { clock, dateTime, many } from '../parts/words.ts';
import type { WalkLine } from '../services.ts';
import { BringIn } from './BringIn.tsx';
import { openWords, useCounted } from './counted.ts';
import './walks.css';

const STATES: Readonly<Record<WalkLine['state'], string>> = {
  walking: 'not finished',
  finished: 'not signed',
  signed: 'signed',
  discarded: 'discarded',
};

/** Walks that are drawn at once, and counted: a page of paper. The others are asked for. */
const SHOWN = 50;

/** Every kept walk: open it again, set several side by side, bring in, back up. */
export default function Walks() {
  const house = useHouse();
  const walks = useLive(house.walks);
  const [most, setMost] = useState(SHOWN);
  const shown = walks.slice(0, most);
  useCounted(shown);
  const [picked, setPicked] = useState<ReadonlySet<string>>(new Set());
  const { tell, say } = useTell();
  const [, go] = useLocation();
  const backUp = async () => {
    const outcome = await house.backUp();
    if (tell(outcome) && outcome.ok) {
      await handOut(outcome.value.name, outcome.value.blob, true);
      say(`${outcome.value.name} holds every walk, squawk and catalogue of this device.`);
    }
  };
  return (
    <div className="walks">
      <header className="head">
        <h1>Walks</h1>
      </header>
      {walks.length === 0 ? (
        <p>
          No walk is kept on this device yet. <Link href="/">Begin one</Link>, or bring one in.
        </p>
      ) : (
        <>
          <ul className="walk-list lines">
            {shown.map((w) => (
              <li key={w.id}>
                <label className="pick-walk">
                  <input
                    type="checkbox"
                    checked={picked.has(w.id)}
                    aria-label={`Side by side: ${w.aircraft}, ${dateTime(w.begun)}`}
                    onChange={(e) => {
                      const next = new Set(picked);
                      if (e.target.checked) next.add(w.id);
                      else next.delete(w.id);
                      setPicked(next);
                    }}
                  />
                </label>
                <Link className="walk-line" href={`/sheet/${w.id}`}>
                  <Mark of={w.open === 0 ? 'spoken' : 'part'} label="" />
                  <strong>{w.aircraft}</strong>
                  <span className="quiet">{dateTime(w.begun)}</span>
                  <span className="quiet">
                    {w.seconds !== null ? clock(w.seconds) : w.open === null ? '' : 'times unknown'}
                  </span>
                  <span>{w.pilot ?? ''}</span>
                  <span>{openWords(w.open)}</span>
                  <span>
                    {w.findings === 0 || w.findings === null ? '' : many(w.findings, 'finding')}
                  </span>
                  <span className="quiet">
                    {STATES[w.state]}
                    {w.brought && ', brought in'}
                  </span>
                </Link>
                <Link
                  className="press"
                  href={`/debrief/${w.id}`}
                  aria-label={`Debrief ${w.aircraft}, ${dateTime(w.begun)}`}
                >
                  Debrief
                </Link>
              </li>
            ))}
          </ul>
          <div className="tools">
            {walks.length > shown.length && (
              <button type="button" className="press" onClick={() => setMost(most + SHOWN)}>
                Show older, {shown.length} of {walks.length} are here
              </button>
            )}
            <button
              type="button"
              className="press"
              disabled={picked.size < 2}
              onClick={() => go(`/several/${[...picked].join(',')}`)}
            >
              {picked.size < 2
                ? 'To compare walks, tick two or more'
                : `Compare ${picked.size} walks`}
            </button>
          </div>
        </>
      )}
      <div className="two">
        <BringIn />
        <section className="keep">
          <h2>Keep it safe</h2>
          <p>
            Everything stays on this device. A browser may delete it when it is short of room or, on
            some phones, after seven days without use; a backup is one file.
          </p>
          <div className="tools">
            <button type="button" className="press" onClick={() => void backUp()}>
              Back up to a file
            </button>
          </div>
        </section>
      </div>
    </div>
  );
}
