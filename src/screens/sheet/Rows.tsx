import { memo } from 'react';
import { ONCE, type Catalogue, type Check } from '#shared/catalogue';
import type { CheckCoverage, Coverage } from '#shared/coverage';
import { STANDING_WORDS } from '#shared/coverage';
import { Mark } from '../parts/Mark.tsx';
import { Reasons } from '../parts/Reasons.tsx';
import { ToldOf } from './Explained.tsx';
import { Reviews } from './Reviews.tsx';
import { byStation, capital, countOf, counts, missingWords, namesOf } from '../parts/words.ts';

/** Stations in walking order; each check with its standing, what is missing and the words that count. */
export const Rows = memo(function Rows({
  catalogue,
  coverage,
}: {
  catalogue: Catalogue;
  coverage: Coverage;
}) {
  const names = namesOf(catalogue);
  const groups = byStation(coverage);
  return (
    <>
      {catalogue.stations.map((s, i) => {
        const checks = (groups.get(s.id) ?? []).filter(counts);
        if (checks.length === 0) return null;
        const count = countOf(checks);
        return (
          <section key={s.id} className="station-rows">
            <h2>
              <span className="number">{i + 1}</span> {s.name}
              <span className="quiet tally">
                {count.spoken} of {count.required}
              </span>
            </h2>
            <ul>
              {checks.map((c) => (
                <Row key={c.check} coverage={c} check={names.check.get(c.check)} />
              ))}
            </ul>
          </section>
        );
      })}
    </>
  );
});

const Row = memo(function Row({
  coverage,
  check,
}: {
  coverage: CheckCoverage;
  check: Check | undefined;
}) {
  const missing = coverage.standing === 'part' ? missingWords(coverage, check) : '';
  const words = coverage.reasons.find((r) => r.words !== null)?.words ?? null;
  return (
    <li>
      <details className={`row is-${coverage.standing}`}>
        <summary>
          <Mark of={coverage.standing} label="" />
          <span className="row-name">{capital(check?.name ?? coverage.check)}</span>
          <span className="row-standing">
            {STANDING_WORDS[coverage.standing]}
            {missing !== '' && `: ${missing} missing`}
            {coverage.reviewed !== null && `; reviewer: ${STANDING_WORDS[coverage.reviewed]}`}
          </span>
          <span className="row-words">
            {words !== null && <span className="words">{words}</span>}
          </span>
        </summary>
        <Reviews of={coverage.reviews} />
        <div className="row-why">
          <ToldOf coverage={coverage} />
          <Reasons reasons={coverage.reasons} />
          {coverage.required.because !== null && (
            <p>Required because: {coverage.required.because}</p>
          )}
          {check !== undefined && <Asks check={check} />}
        </div>
      </details>
    </li>
  );
});

function Asks({ check }: { check: Check }) {
  const places = (check.repeat?.instances ?? []).filter((i) => i !== ONCE);
  return (
    <p className="quiet small">
      {[
        check.aspects.length > 0 ? `To say: ${check.aspects.map((a) => a.name).join(', ')}.` : '',
        places.length > 0 ? `At: ${places.join(', ')}.` : '',
        `How: ${check.acts.join(', ')}.`,
        check.source === undefined ? '' : `${capital(check.source)}.`,
      ]
        .filter((t) => t !== '')
        .join(' ')}
    </p>
  );
}
