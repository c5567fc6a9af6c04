import { Link } from 'wouter';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { Mark } from '../parts/Mark.tsx';
import { useChooseEar } from '../settings/chooseEar.tsx';
import type { Unheard as Lost } from '../services.ts';
import { useText } from '../text/text.ts';

/** After several pieces of speech that gave no words: what is likely wrong, and what can be done, a touch each. */
export function Unheard({ unheard }: { unheard: Lost | undefined }) {
  const house = useHouse();
  const t = useText();
  const { ear } = useLive(house.settings);
  const { choose, asked } = useChooseEar();
  if (unheard === undefined || unheard.advice === null) return null;
  const other = ear === 'browser' ? 'embedded' : 'browser';
  return (
    <div className="notice caution" role="alert">
      <Mark of="question" label="" />
      <div>
        <p>{t('unheard-many', { n: unheard.inARow })}</p>
        <p>{t(`unheard-${unheard.advice}`)}</p>
        <div className="tools">
          <button type="button" className="press" onClick={() => choose(other)}>
            {t(other === 'browser' ? 'unheard-browser' : 'unheard-own')}
          </button>
          <button type="button" className="press" onClick={() => choose('typed')}>
            {t('unheard-type')}
          </button>
          {house.earCheck !== undefined && ear === 'embedded' && (
            <Link className="press" href="/ear">
              {t('unheard-check')}
            </Link>
          )}
        </div>
      </div>
      {asked}
    </div>
  );
}
