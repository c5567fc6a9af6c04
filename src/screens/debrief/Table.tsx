import { memo, useMemo, useState } from 'react';
import type { Catalogue } from '#shared/catalogue';
import type { CheckCoverage, Coverage } from '#shared/coverage';
import { Mark } from '../parts/Mark.tsx';
import { byStation, capital, counts, isOpen, namesOf } from '../parts/words.ts';
import { useText } from '../text/text.ts';

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
  const t = useText();
  const [all, setAll] = useState(false);
  const groups = useMemo(() => byStation(coverage), [coverage]);
  const names = namesOf(catalogue);
  const shown = (c: CheckCoverage) =>
    counts(c) && (all || isOpen(c.standing) || c.reviewed !== null);
  const open = coverage.checks.filter((c) => counts(c) && isOpen(c.standing)).length;
  return (
    <div className="table">
      <div className="tools noprint" role="group" aria-label={t('table-which')}>
        <button type="button" className="press" aria-pressed={!all} onClick={() => setAll(false)}>
          {t('table-open', { n: open })}
        </button>
        <button type="button" className="press" aria-pressed={all} onClick={() => setAll(true)}>
          {t('table-all', { n: coverage.checks.filter(counts).length })}
        </button>
      </div>
      {open === 0 && !all && <p>{t('table-none')}</p>}
      {open > 0 && <p className="only-print">{t('table-skipped')}</p>}
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
                          {t(`standing-${c.standing}`)}
                        </span>
                        {c.reviewed !== null &&
                          `; ${t('table-reviewer', { standing: t(`standing-${c.reviewed}`) })}`}
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
