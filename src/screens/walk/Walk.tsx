import { useState } from 'react';
import { Link, Redirect } from 'wouter';
import type { CheckCoverage } from '#shared/coverage';
import { Plan } from '../plan/Plan.tsx';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { Mark } from '../parts/Mark.tsx';
import { PRACTICE, type WalkView } from '../services.ts';
import { useText } from '../text/text.ts';
import { Ask } from './Ask.tsx';
import { CheckCard } from './CheckCard.tsx';
import { Demanded, shownBeside } from './Demanded.tsx';
import { Ear } from './Ear.tsx';
import { First } from './First.tsx';
import { Hands } from './Hands.tsx';
import { Here } from './Here.tsx';
import { Lately } from './Lately.tsx';
import { Said } from './Said.tsx';
import { Stations } from './Stations.tsx';
import { Today } from './Today.tsx';
import { Typed } from './Typed.tsx';
import { Unheard } from './Unheard.tsx';
import { Unkept } from './Unkept.tsx';
import { Where } from './Where.tsx';
import { useFresh } from './fresh.ts';
import './walk.css';

export function Walk() {
  const walk = useLive(useHouse().walk);
  return walk === null ? <Redirect to="/" /> : <Walking walk={walk} />;
}

function Walking({ walk }: { walk: WalkView }) {
  const t = useText();
  const [overlay, setOverlay] = useState<'stations' | CheckCoverage | null>(null);
  const fresh = useFresh(walk.coverage);
  const house = useHouse();
  const listening = useLive(house.listening);
  const why = listening.state === 'deaf' ? listening.why : null;
  const shown = shownBeside(walk, why);
  // The first use is no aircraft's: nothing is filed against it, and nobody let in.
  const practice = walk.aircraft === PRACTICE;
  const close = () => setOverlay(null);
  return (
    <div className="walk">
      <Ear aircraft={walk.aircraft} />
      <main className="walk-body">
        <div className="walk-first">
          <First walk={walk} />
          {walk.question !== null && <Ask key={walk.question.id} question={walk.question} />}
          <Said walk={walk} small={walk.question !== null} />
        </div>
        <div className="walk-plan">
          <Plan
            catalogue={walk.catalogue}
            coverage={walk.coverage}
            here={walk.station}
            fresh={fresh}
          />
        </div>
        <div className="walk-now">
          {walk.trouble !== null &&
            walk.trouble !== walk.question?.text &&
            walk.trouble !== why && (
              <div className="notice caution" role="alert">
                <Mark of="question" label="" />
                <p>{t.said(walk.trouble)}</p>
              </div>
            )}
          <Unheard unheard={walk.unheard} />
          <Unkept words={walk.unkept ?? []} />
          {walk.question === null && <Demanded walk={walk} pick={setOverlay} />}
          {/* Always there, so that a screen reader tells what comes into it. */}
          <div role="status">{shown !== '' && <p className="shown">{shown}</p>}</div>
          <Where walk={walk} open={() => setOverlay('stations')} />
          {walk.question === null && <Here walk={walk} fresh={fresh} pick={setOverlay} />}
          <div className="walk-more">
            <Lately lately={walk.lately ?? []} catalogue={walk.catalogue} />
            <Today walk={walk} />
            <nav aria-label={t('elsewhere')} className="tools">
              {!practice && (
                <Link className="press" href={`/squawk/${encodeURIComponent(walk.aircraft)}`}>
                  {t('squawk')}
                </Link>
              )}
              {!practice && house.letIn !== undefined && (
                <Link className="press" href={`/sheet/${walk.id}`}>
                  {t('second-device')}
                </Link>
              )}
            </nav>
          </div>
        </div>
      </main>
      <section className="walk-type" aria-label={t('type-instead')}>
        <Typed />
      </section>
      <Hands />
      {overlay === 'stations' && <Stations walk={walk} close={close} />}
      {overlay !== null && overlay !== 'stations' && (
        <CheckCard catalogue={walk.catalogue} coverage={overlay} close={close} />
      )}
    </div>
  );
}
