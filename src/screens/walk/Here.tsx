import { useState } from 'react';
import type { CheckCoverage } from '#shared/coverage';
import { Mark } from '../parts/Mark.tsx';
import { capital, counts, isOpen, missingWords, namesOf } from '../parts/words.ts';
import type { WalkView } from '../services.ts';

/** More than this at once is not read at a glance. */
const AT_A_GLANCE = 5;

/** What is open where the pilot stands, large; the nearest station with something open otherwise. */
export function Here({ walk, pick }: { walk: WalkView; pick: (check: CheckCoverage) => void }) {
  const [all, setAll] = useState<string | null>(null);
  const names = namesOf(walk.catalogue);
  const open = walk.coverage.checks.filter((c) => counts(c) && isOpen(c.standing));
  const here = open.filter((c) => c.station === walk.station);
  const station = walk.station === null ? undefined : names.station.get(walk.station);
  if (open.length === 0) {
    return (
      <p className="all-said">Every check that is required today is spoken for or set aside.</p>
    );
  }
  if (here.length === 0) {
    const next = open[0];
    const name = next === undefined ? '' : (names.station.get(next.station)?.name ?? '');
    return (
      <p className="all-said">
        {station === undefined ? 'Begin at ' : 'Nothing open here. Next: '}
        <strong>{name}</strong>
      </p>
    );
  }
  const rest = all === walk.station ? 0 : Math.max(0, here.length - AT_A_GLANCE);
  return (
    <ul className="here">
      {here.slice(0, here.length - rest).map((c) => {
        const check = names.check.get(c.check);
        const missing = c.standing === 'part' ? missingWords(c, check) : '';
        return (
          <li key={c.check}>
            <button type="button" onClick={() => pick(c)}>
              <Mark of={c.standing} />
              <span>
                {capital(check?.name ?? c.check)}
                {missing !== '' && <span className="missing">: {missing}</span>}
                {c.required.because !== null && (
                  <span
                    className={`because ${c.required.by === 'follow-up' ? 'is-follow-up' : 'small'}`}
                  >
                    {c.required.because}
                  </span>
                )}
              </span>
            </button>
          </li>
        );
      })}
      {rest > 0 && (
        <li>
          <button type="button" className="quiet" onClick={() => setAll(walk.station)}>
            and {rest} more here
          </button>
        </li>
      )}
    </ul>
  );
}
