import { memo } from 'react';
import type { Catalogue } from '#shared/catalogue';
import type { Finding } from '#shared/coverage';
import { Mark } from '../parts/Mark.tsx';
import { Pictures } from '../parts/Pictures.tsx';
import { Reasons } from '../parts/Reasons.tsx';
import {
  capital,
  findingTitle,
  findingWhat,
  gravity,
  namesOf,
  worstFirst,
} from '../parts/words.ts';
import { useText } from '../text/text.ts';
import { Reviews } from './Reviews.tsx';

const SETTLED = {
  stands: null,
  'in-question': 'sheet-contradicted',
  'taken-back': 'sheet-taken-back-line',
} as const;

/** Findings that count, worst first; of equal weight, as they were said; those taken back last. */
export const Findings = memo(function Findings({
  catalogue,
  findings,
}: {
  catalogue: Catalogue;
  findings: readonly Finding[];
}) {
  const names = namesOf(catalogue);
  const t = useText();
  if (findings.length === 0) return <p>{t('sheet-no-finding')}</p>;
  return (
    <ol className="findings">
      {worstFirst(findings).map((f) => {
        const settled = SETTLED[f.settled];
        return (
          <li key={f.id} className={`finding is-${f.settled} grave-${gravity(f.severity)}`}>
            <Mark of="finding" severity={f.severity} label="" />
            <div>
              <h3>{findingTitle(f, names, t)}</h3>
              <p className="severity">
                {capital(t(`severity-${f.severity ?? 'none'}`))}
                {f.severity !== null && (
                  <span className="quiet">
                    {`, ${
                      f.severityBy === 'before'
                        ? t('sheet-from-before', { on: f.ratedOn ?? '' })
                        : t(
                            f.severityBy === 'said'
                              ? 'sheet-from-reporter'
                              : 'sheet-from-catalogue',
                          )
                    }`}
                  </span>
                )}
                {f.severityBy === 'measure' && (
                  <span className="quiet"> {t('sheet-from-measure')}</span>
                )}
              </p>
            </div>
            <div className="finding-text">
              <p>
                {findingWhat(f)}
                {f.check === null && f.happened !== true && <strong> {t('sheet-unplaced')}</strong>}
              </p>
              <p className="words">{f.words}</p>
              <Pictures pictures={f.pictures} of={findingTitle(f, names, t)} />
              <Reviews of={f.reviews} />
              {f.cleared !== undefined && <p>{t('sheet-cleared', { words: f.cleared })}</p>}
              {f.suggests !== null && <p className="quiet">{f.suggests}</p>}
              {settled !== null && <p>{t(settled)}</p>}
              <details className="noprint">
                <summary>{t('sheet-why')}</summary>
                <Reasons reasons={f.reasons} />
              </details>
            </div>
          </li>
        );
      })}
    </ol>
  );
});
