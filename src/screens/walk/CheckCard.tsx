import type { CheckCoverage } from '#shared/coverage';
import { ONCE, instancesOf } from '#shared/catalogue';
import type { Catalogue } from '#shared/catalogue';
import { useHouse } from '../parts/house.ts';
import { Mark } from '../parts/Mark.tsx';
import { Modal } from '../parts/Modal.tsx';
import { Reasons } from '../parts/Reasons.tsx';
import { useTell } from '../parts/Tell.tsx';
import { capital, namesOf } from '../parts/words.ts';
import { useText } from '../text/text.ts';
import { LeaveOpen } from './LeaveOpen.tsx';

/**
 * One check by hand: what it asks, why it stands as it does, and how it is
 * settled. "Good" is offered only where the pilot stands before it.
 */
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
  const t = useText();
  const check = namesOf(catalogue).check.get(coverage.check);
  const measured = (check?.measures.length ?? 0) > 0;
  const places = check === undefined ? [] : instancesOf(check).filter((i) => i !== ONCE);
  return (
    <Modal title={capital(check?.name ?? coverage.check)} close={close}>
      <div className="check-card">
        <p className="standing-line">
          <Mark of={coverage.standing} label="" /> {capital(t(`standing-${coverage.standing}`))}
          {coverage.touched === true && ` ${t('by-touch')}`}
        </p>
        {check?.caution !== undefined && <p className="cautions">{check.caution}</p>}
        <dl className="asks">
          {(check?.aspects.length ?? 0) > 0 && (
            <>
              <dt>{t('card-say')}</dt>
              <dd>{check?.aspects.map((a) => a.name).join(', ')}</dd>
            </>
          )}
          {places.length > 0 && (
            <>
              <dt>{t('card-of')}</dt>
              <dd>{places.join(', ')}</dd>
            </>
          )}
          {measured && (
            <>
              <dt>{t('card-value')}</dt>
              <dd>{check?.measures.map((m) => m.name).join(', ')}</dd>
            </>
          )}
          <dt>{t('card-how')}</dt>
          <dd>{check?.acts.join(', ')}</dd>
        </dl>
        <Reasons reasons={coverage.reasons} />
        {measured ? (
          <p className="small quiet">{t('card-measured')}</p>
        ) : (
          <>
            <button
              type="button"
              className="press main glove"
              onClick={() =>
                void house.settle(coverage.check, 'good').then((o) => tell(o) && close())
              }
            >
              {t('card-good')}
            </button>
            <p className="small quiet">{t('card-good-note')}</p>
          </>
        )}
        <LeaveOpen check={coverage.check} done={close} />
      </div>
    </Modal>
  );
}
