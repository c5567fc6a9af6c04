import { useState } from 'react';
import type { CheckCoverage } from '#shared/coverage';
import { STANDING_WORDS } from '#shared/coverage';
import { ONCE, instancesOf } from '#shared/catalogue';
import type { Catalogue } from '#shared/catalogue';
import { useHouse } from '../parts/house.ts';
import { Mark } from '../parts/Mark.tsx';
import { Modal } from '../parts/Modal.tsx';
import { Reasons } from '../parts/Reasons.tsx';
import { useTell } from '../parts/Tell.tsx';
import { capital, namesOf } from '../parts/words.ts';

/** One check by hand: what it asks, why it stands as it does, and the two ways to settle it. */
export function CheckCard({
  catalogue,
  coverage,
  close,
}: {
  catalogue: Catalogue;
  coverage: CheckCoverage;
  close: () => void;
}) {
  const house = useHouse();
  const { tell } = useTell();
  const [reason, setReason] = useState('');
  const check = namesOf(catalogue).check.get(coverage.check);
  const done = (go: Promise<Parameters<typeof tell>[0]>) =>
    void go.then((o) => {
      if (tell(o)) close();
    });
  const measured = (check?.measures.length ?? 0) > 0;
  const places = check === undefined ? [] : instancesOf(check).filter((i) => i !== ONCE);
  return (
    <Modal title={capital(check?.name ?? coverage.check)} close={close}>
      <div className="check-card">
        <p className="standing-line">
          <Mark of={coverage.standing} label="" /> {capital(STANDING_WORDS[coverage.standing])}
        </p>
        {check?.caution !== undefined && <p className="cautions">{check.caution}</p>}
        <dl className="asks">
          {(check?.aspects.length ?? 0) > 0 && (
            <>
              <dt>Say</dt>
              <dd>{check?.aspects.map((a) => a.name).join(', ')}</dd>
            </>
          )}
          {places.length > 0 && (
            <>
              <dt>Of</dt>
              <dd>{places.join(', ')}</dd>
            </>
          )}
          {measured && (
            <>
              <dt>Value</dt>
              <dd>{check?.measures.map((m) => m.name).join(', ')}</dd>
            </>
          )}
          <dt>How</dt>
          <dd>{check?.acts.join(', ')}</dd>
        </dl>
        <Reasons reasons={coverage.reasons} />
        {measured ? (
          <p className="small quiet">A measured check needs its value: say it or type it.</p>
        ) : (
          <button
            type="button"
            className="press main glove"
            onClick={() => done(house.settle(coverage.check, 'good'))}
          >
            Good
          </button>
        )}
        <div className="aside">
          <label className="field">
            <span>Why it is set aside</span>
            <input value={reason} onChange={(e) => setReason(e.target.value)} autoComplete="off" />
          </label>
          <button
            type="button"
            className="press"
            onClick={() => done(house.setAside(coverage.check, reason.trim() || 'not fitted'))}
          >
            Set aside
          </button>
        </div>
      </div>
    </Modal>
  );
}
