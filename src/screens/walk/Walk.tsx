import { useState } from 'react';
import { Link, Redirect, useLocation } from 'wouter';
import type { CheckCoverage } from '#shared/coverage';
import { Plan } from '../plan/Plan.tsx';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { Mark } from '../parts/Mark.tsx';
import { useTell } from '../parts/Tell.tsx';
import { byStation, countOf, namesOf } from '../parts/words.ts';
import type { WalkView } from '../services.ts';
import { Ask } from './Ask.tsx';
import { CheckCard } from './CheckCard.tsx';
import { Demanded, shownBeside } from './Demanded.tsx';
import { Ear } from './Ear.tsx';
import { Here } from './Here.tsx';
import { Lately } from './Lately.tsx';
import { Said } from './Said.tsx';
import { Stations } from './Stations.tsx';
import { Today } from './Today.tsx';
import { Typed } from './Typed.tsx';
import { Unkept } from './Unkept.tsx';
import { useFresh } from './fresh.ts';
import './walk.css';

export function Walk() {
  const walk = useLive(useHouse().walk);
  return walk === null ? <Redirect to="/" /> : <Walking walk={walk} />;
}

function Walking({ walk }: { walk: WalkView }) {
  const [overlay, setOverlay] = useState<'stations' | CheckCoverage | null>(null);
  const fresh = useFresh(walk.coverage);
  const shown = shownBeside(walk);
  const close = () => setOverlay(null);
  return (
    <div className="walk">
      <Ear aircraft={walk.aircraft} />
      <main className="walk-body">
        <Said last={walk.last} />
        <div className="walk-plan">
          <Plan
            catalogue={walk.catalogue}
            coverage={walk.coverage}
            here={walk.station}
            fresh={fresh}
          />
        </div>
        <div className="walk-now">
          {walk.trouble !== null && walk.trouble !== walk.question?.text && (
            <div className="notice caution" role="alert">
              <Mark of="question" label="" />
              <p>{walk.trouble}</p>
            </div>
          )}
          <Unkept words={walk.unkept ?? []} />
          {walk.question === null && <Demanded walk={walk} pick={setOverlay} />}
          {/* Always there, so that a screen reader tells what comes into it. */}
          <div role="status">{shown !== '' && <p className="shown">{shown}</p>}</div>
          <Where walk={walk} open={() => setOverlay('stations')} />
          {walk.question === null ? (
            <Here walk={walk} pick={setOverlay} />
          ) : (
            <Ask key={walk.question.id} question={walk.question} />
          )}
          <div className="walk-more">
            <Typed />
            <Lately lately={walk.lately ?? []} catalogue={walk.catalogue} />
            <nav aria-label="Elsewhere" className="tools">
              <Link className="press" href={`/squawk/${encodeURIComponent(walk.aircraft)}`}>
                Squawk
              </Link>
              <Link className="press" href="/finish">
                Finish the walk
              </Link>
            </nav>
            <Today walk={walk} />
          </div>
        </div>
      </main>
      <Hands />
      {overlay === 'stations' && <Stations walk={walk} close={close} />}
      {overlay !== null && overlay !== 'stations' && (
        <CheckCard catalogue={walk.catalogue} coverage={overlay} close={close} />
      )}
    </div>
  );
}

/** The station, and how much of it is spoken for; a touch lists them all. */
function Where({ walk, open }: { walk: WalkView; open: () => void }) {
  const station =
    walk.station === null ? undefined : namesOf(walk.catalogue).station.get(walk.station);
  const place = walk.catalogue.stations.findIndex((s) => s.id === walk.station);
  const count = countOf(byStation(walk.coverage).get(walk.station ?? '') ?? []);
  const whole = countOf(walk.coverage.checks);
  return (
    <>
      <div className="where">
        <h1>
          <button type="button" onClick={open} aria-haspopup="dialog">
            {station === undefined ? 'Where are you?' : `${place + 1} ${station.name}`}
          </button>
        </h1>
        <p className="number">
          {station === undefined ? '' : `${count.spoken + count.aside} of ${count.required} here, `}
          {whole.spoken + whole.aside} of {whole.required} in all
        </p>
      </div>
      {station?.caution !== undefined && station.caution !== walk.trouble && (
        <p className="cautions">{station.caution}</p>
      )}
    </>
  );
}

/** The two things a gloved thumb presses. */
function Hands() {
  const house = useHouse();
  const { tell } = useTell();
  const now = useLive(house.listening);
  const [, go] = useLocation();
  const walk = useLive(house.walk);
  const held = now.state === 'held';
  return (
    <footer className="hands">
      <button
        type="button"
        className="press glove"
        disabled={walk?.last === null}
        onClick={() => void house.wrong().then(tell)}
      >
        That was wrong
      </button>
      {now.state === 'deaf' ? (
        <button type="button" className="press main glove" onClick={() => house.resume()}>
          Listen again
        </button>
      ) : now.state === 'typed' ? (
        <button type="button" className="press main glove" onClick={() => go('/finish')}>
          Finish
        </button>
      ) : (
        <button
          type="button"
          className={`press glove ${held ? 'main' : 'strong'}`}
          onClick={() => (held ? house.resume() : house.hold())}
        >
          {held ? 'Resume' : 'Hold'}
        </button>
      )}
    </footer>
  );
}
