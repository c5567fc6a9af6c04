import { memo, useMemo, useState } from 'react';
import type { Catalogue } from '#shared/catalogue';
import type { CheckCoverage, Coverage } from '#shared/coverage';
import { STANDING_WORDS } from '#shared/coverage';
import { Mark } from '../parts/Mark.tsx';
import { byStation, capital, counts, isOpen, namesOf } from '../parts/words.ts';

/** Coverage as a table: what is open, or everything. Pick a check to see its words. */
export const Table = memo(function Table({
  catalogue,
  coverage,
  picked,
  pick,
}: {
  catalogue: Catalogue;
  coverage: Coverage;
  picked: string | null;
  pick: (check: string) => void;
}) {
  const [all, setAll] = useState(false);
  const groups = useMemo(() => byStation(coverage), [coverage]);
  const names = namesOf(catalogue);
  const shown = (c: CheckCoverage) =>
    counts(c) && (all || isOpen(c.standing) || c.reviewed !== null);
  const open = coverage.checks.filter((c) => counts(c) && isOpen(c.standing)).length;
  return (
    <div className="table">
      <div className="tools noprint" role="group" aria-label="Which checks">
        <button type="button" className="press" aria-pressed={!all} onClick={() => setAll(false)}>
          Open ({open})
        </button>
        <button type="button" className="press" aria-pressed={all} onClick={() => setAll(true)}>
          All ({coverage.checks.filter(counts).length})
        </button>
      </div>
      {open === 0 && !all && <p>Nothing is open.</p>}
      {open > 0 && <p className="only-print">Skipped, where nothing else is said:</p>}
      <ul className="table-rows">
        {catalogue.stations.map((s, i) => {
          const checks = (groups.get(s.id) ?? []).filter(shown);
          if (checks.length === 0) return null;
          return (
            <li key={s.id}>
              <h3>
                <span className="number">{i + 1}</span> {s.name}
              </h3>
              <ul className="lines">
                {checks.map((c) => (
                  <li key={c.check}>
                    <button
                      type="button"
                      className="line"
                      aria-pressed={c.check === picked}
                      onClick={() => pick(c.check)}
                    >
                      <Mark of={c.standing} label="" />
                      <span>{capital(names.check.get(c.check)?.name ?? c.check)}</span>
                      <span className="quiet">
                        <span className={`standing-${c.standing}`}>
                          {STANDING_WORDS[c.standing]}
                        </span>
                        {c.reviewed !== null && `; reviewer: ${STANDING_WORDS[c.reviewed]}`}
                      </span>
                    </button>
                  </li>
                ))}
              </ul>
            </li>
          );
        })}
      </ul>
    </div>
  );
});
