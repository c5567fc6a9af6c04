import { useState } from 'react';
import { Link, Redirect, useLocation } from 'wouter';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { useTell } from '../parts/Tell.tsx';
import { countOf, many } from '../parts/words.ts';
import type { WalkView } from '../services.ts';
import { Typed } from '../walk/Typed.tsx';
import { Decide } from './Decide.tsx';
import { Open } from './Open.tsx';
import './finish.css';
import '../walk/walk.css';

/** What is open, worst first, each one touch from settled; then the decision and the signature. */
export default function Finish() {
  const walk = useLive(useHouse().walk);
  return walk === null ? <Redirect to="/" /> : <Finishing walk={walk} />;
}

function Finishing({ walk }: { walk: WalkView }) {
  const house = useHouse();
  const { tell } = useTell();
  const [, go] = useLocation();
  const [busy, setBusy] = useState(false);
  const { coverage } = walk;
  const count = countOf(coverage.checks);
  const left = coverage.open.length;
  const finish = async () => {
    setBusy(true);
    tell(await house.finish());
    setBusy(false);
  };
  return (
    <div className="finish">
      <header className="head">
        <h1>{left === 0 ? 'Nothing is open' : `${many(left, 'thing')} open`}</h1>
        <p>
          {walk.aircraft}: {count.spoken} of {count.required} checks spoken for
          {count.aside > 0 && `, ${count.aside} set aside`}
          {coverage.findings.length > 0 && `, ${many(coverage.findings.length, 'finding')}`}.
          {coverage.finished && left > 0 && ' Finished with gaps; they stay on the sheet.'}
        </p>
      </header>
      {left > 0 && coverage.signed === null && (
        <>
          <Open walk={walk} />
          <Typed label="Or settle it in your own words" />
        </>
      )}
      {coverage.finished ? (
        <Decide
          coverage={coverage}
          done={() => {
            const id = walk.id;
            house.close();
            go(`/sheet/${id}`);
          }}
        />
      ) : (
        <div className="finish-go">
          <Link className="press glove" href="/walk">
            Back to the walk
          </Link>
          <button
            type="button"
            className="press main glove"
            disabled={busy}
            onClick={() => void finish()}
          >
            {left === 0 ? 'Finish' : `Finish with ${left} open`}
          </button>
        </div>
      )}
    </div>
  );
}
