import { useState } from 'react';
import { Link, Redirect, useLocation } from 'wouter';
import { countOf, findingCounts } from '#shared/counts';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { useTell } from '../parts/Tell.tsx';
import type { WalkView } from '../services.ts';
import { useText } from '../text/text.ts';
import { HandOverPress } from '../sheet/Shared.tsx';
import { Typed } from '../walk/Typed.tsx';
import { Decide } from './Decide.tsx';
import { DiscardWalk } from './Discard.tsx';
import { Found } from './Found.tsx';
import { Gaps } from './Gaps.tsx';
import './finish.css';
import '../walk/walk.css';

/** The last minute: what was found, the decision, and what is still open, in that order. */
export default function Finish() {
  const walk = useLive(useHouse().walk);
  return walk === null ? <Redirect to="/" /> : <Finishing walk={walk} />;
}

function Finishing({ walk }: { walk: WalkView }) {
  const house = useHouse();
  const { tell } = useTell();
  const t = useText();
  const [, go] = useLocation();
  const [busy, setBusy] = useState(false);
  const { coverage } = walk;
  const { finished } = coverage;
  const { open } = countOf(coverage.checks);
  const finish = async () => {
    setBusy(true);
    tell(await house.finish());
    setBusy(false);
  };
  return (
    <div className="finish">
      <Head walk={walk} />
      {walk.guest === true && <p>{t('finish-guest')}</p>}
      <Found walk={walk} />
      {finished && walk.guest !== true && (
        <Decide
          coverage={coverage}
          done={() => {
            const id = walk.id;
            house.close();
            go(`/sheet/${id}`);
          }}
        />
      )}
      {open > 0 && <Gaps walk={walk} />}
      {coverage.signed === null && coverage.open.length > 0 && (
        <Typed label={t('finish-own-words')} />
      )}
      {walk.guest === true && <Guest walk={walk} />}
      {!finished && walk.guest !== true && (
        <>
          <DiscardWalk walk={walk.id} done={() => go('/')} />
          <div className="finish-go">
            <Link className="press glove" href="/walk">
              {t('finish-back')}
            </Link>
            <button
              type="button"
              className="press main glove"
              disabled={busy}
              onClick={() => void finish()}
            >
              {open === 0 ? t('finish-now') : t('finish-with', { n: open })}
            </button>
          </div>
        </>
      )}
    </div>
  );
}

/** On a device that was let in: it hands over what it added, and ends nothing. */
function Guest({ walk }: { walk: WalkView }) {
  const t = useText();
  const [, go] = useLocation();
  return (
    <div className="finish-go">
      <Link className="press glove" href="/walk">
        {t('finish-back')}
      </Link>
      <HandOverPress walk={walk.id} done={() => go(`/sheet/${walk.id}`)} />
    </div>
  );
}

/** How much is open, and of how many checks what came, in the numbers of list and sheet. */
function Head({ walk: { aircraft, coverage } }: { walk: WalkView }) {
  const t = useText();
  const { required, spoken, aside, open, touched } = countOf(coverage.checks);
  const { findings } = findingCounts(coverage);
  const title = open === 0 ? t('finish-no-gap') : t('gaps', { n: open });
  return (
    <header className="head">
      <h1>{findings === 0 ? title : `${title}, ${t('findings', { n: findings })}`}</h1>
      <p>
        {[
          t('finish-line', { aircraft, spoken, required }),
          ...(touched === 0 ? [] : [t('finish-line-touched', { n: touched })]),
          ...(aside === 0 ? [] : [t('finish-line-aside', { n: aside })]),
          ...(coverage.finished && open > 0 ? [t('finish-line-finished')] : []),
        ].join(' ')}
      </p>
    </header>
  );
}
