import { memo, useSyncExternalStore } from 'react';
import { ended } from '#report';
import { ONCE, type Catalogue, type Check } from '#shared/catalogue';
import type { Counts } from '#shared/counts';
import type { CheckCoverage, Coverage, Standing } from '#shared/coverage';
import { measuredWords } from '#shared/told';
import { Mark } from '../parts/Mark.tsx';
import { Reasons } from '../parts/Reasons.tsx';
import { ToldOf } from './Explained.tsx';
import { Reviews } from './Reviews.tsx';
import { byStation, capital, countOf, counts, missingWords, namesOf } from '../parts/words.ts';
import { useText } from '../text/text.ts';

/**
 * Stations in walking order; each check with its standing, what is missing and
 * the words that count. On a phone a station is opened to see its checks.
 */
export const Rows = memo(function Rows({
  catalogue,
  coverage,
}: {
  catalogue: Catalogue;
  coverage: Coverage;
}) {
  const t = useText();
  const wide = useWide();
  const names = namesOf(catalogue);
  const groups = byStation(coverage);
  return (
    <>
      {catalogue.stations.map((s, i) => {
        const checks = (groups.get(s.id) ?? []).filter(counts);
        if (checks.length === 0) return null;
        const count = countOf(checks);
        return (
          <details key={`${s.id} ${wide}`} className="station-rows" open={wide}>
            <summary>
              <h2>
                <span className="number">{i + 1}</span>{' '}
                <span className="station-name">{s.name}</span>
                <span className="quiet tally">
                  {t('sheet-tally', { spoken: count.spoken, required: count.required })}
                </span>
                <Mark of={markOf(count)} label="" />
              </h2>
            </summary>
            <ul>
              {checks.map((c) => (
                <Row key={c.check} coverage={c} check={names.check.get(c.check)} />
              ))}
            </ul>
          </details>
        );
      })}
    </>
  );
});

function markOf(count: Counts): Standing {
  if (count.required === 0) return 'set-aside';
  if (count.open === 0) return count.spoken > 0 ? 'spoken' : 'set-aside';
  return count.spoken > 0 ? 'part' : 'unspoken';
}

/** Room for all stations at once, and paper: nothing is folded there. */
const WIDE = '(min-width: 46rem), print';

function useWide(): boolean {
  return useSyncExternalStore(
    (run) => {
      const query = window.matchMedia(WIDE);
      query.addEventListener('change', run);
      return () => query.removeEventListener('change', run);
    },
    () => window.matchMedia(WIDE).matches,
  );
}

const Row = memo(function Row({
  coverage,
  check,
}: {
  coverage: CheckCoverage;
  check: Check | undefined;
}) {
  const t = useText();
  const standing = t(`standing-${coverage.standing}`);
  const missing = coverage.standing === 'part' ? missingWords(coverage, check) : '';
  const measured = measuredWords(coverage, check);
  const words = coverage.reasons.find((r) => r.words !== null)?.words ?? null;
  return (
    <li>
      <details className={`row is-${coverage.standing}`}>
        <summary>
          <Mark of={coverage.standing} label="" />
          <span className="row-name">{capital(check?.name ?? coverage.check)}</span>
          <span className="row-standing">
            {missing === '' ? standing : t('sheet-missing', { standing, missing })}
            {coverage.touched === true && ` ${t('by-touch')}`}
            {coverage.reviewed !== null &&
              ` ${t('sheet-reviewer', { standing: t(`standing-${coverage.reviewed}`) })}`}
          </span>
          <span className="row-words">
            {words !== null && <span className="words">{words}</span>}
          </span>
        </summary>
        <Reviews of={coverage.reviews} />
        <div className="row-why">
          {measured !== null && <p>{t('sheet-measured', { what: measured })}</p>}
          <ToldOf coverage={coverage} />
          <Reasons reasons={coverage.reasons} />
          {coverage.required.because !== null && (
            <p>{t('sheet-required', { because: coverage.required.because })}</p>
          )}
          {check !== undefined && <Asks check={check} />}
        </div>
      </details>
    </li>
  );
});

function Asks({ check }: { check: Check }) {
  const t = useText();
  const places = (check.repeat?.instances ?? []).filter((i) => i !== ONCE);
  return (
    <p className="quiet small">
      {[
        check.aspects.length > 0
          ? t('sheet-to-say', { what: check.aspects.map((a) => a.name).join(', ') })
          : '',
        places.length > 0 ? t('sheet-places', { what: places.join(', ') }) : '',
        t('sheet-acts', { what: check.acts.join(', ') }),
        check.source === undefined ? '' : t('shop-foot-source', { source: ended(check.source) }),
      ]
        .filter((t) => t !== '')
        .join(' ')}
    </p>
  );
}
