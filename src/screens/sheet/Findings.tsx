import { memo } from 'react';
import { SEVERITY_FROM, SEVERITY_WORDS } from '#shared/severity';
import type { Catalogue } from '#shared/catalogue';
import type { Finding } from '#shared/coverage';
import { Mark } from '../parts/Mark.tsx';
import { Reasons } from '../parts/Reasons.tsx';
import { Reviews } from './Reviews.tsx';
import { capital, findingTitle, findingWhat, gravity, namesOf } from '../parts/words.ts';

const SETTLED = {
  stands: '',
  'in-question': 'Contradicted later: the worse reading stands until it is settled.',
  'taken-back': 'Taken back.',
} as const;

const WORST_FIRST: readonly Finding['severity'][] = ['ground', null, 'defer', 'watch', 'note'];

/** Unrated comes after "ground it": it may still become that. */
function worstFirst(findings: readonly Finding[]): readonly Finding[] {
  const rank = (f: Finding) => WORST_FIRST.indexOf(f.severity);
  return [...findings].sort((a, b) => rank(a) - rank(b));
}

/** Findings, worst first; of equal weight, as they were said. */
export const Findings = memo(function Findings({
  catalogue,
  findings,
}: {
  catalogue: Catalogue;
  findings: readonly Finding[];
}) {
  const names = namesOf(catalogue);
  if (findings.length === 0) return <p>No finding was spoken.</p>;
  return (
    <ol className="findings">
      {worstFirst(findings).map((f) => (
        <li key={f.id} className={`finding is-${f.settled} grave-${gravity(f.severity)}`}>
          <Mark of="finding" severity={f.severity} label="" />
          <div>
            <h3>{findingTitle(f, names)}</h3>
            <p className="severity">
              {f.severity === null ? 'Severity not said' : capital(SEVERITY_WORDS[f.severity])}
              {f.severity !== null && (
                <span className="quiet">
                  {`, ${SEVERITY_FROM[f.severityBy === 'said' ? 'said' : 'catalogue']}`}
                </span>
              )}
              {f.severityBy === 'measure' && <span className="quiet"> (out of limits)</span>}
            </p>
          </div>
          <div className="finding-text">
            <p>
              {findingWhat(f)}
              {f.check === null && (
                <strong> Not placed: it needs its check before the walk can be signed.</strong>
              )}
            </p>
            <p className="words">{f.words}</p>
            <Reviews of={f.reviews} />
            {f.suggests !== null && <p className="quiet">{f.suggests}</p>}
            {f.settled !== 'stands' && <p>{SETTLED[f.settled]}</p>}
            <details className="noprint">
              <summary>Why</summary>
              <Reasons reasons={f.reasons} />
            </details>
          </div>
        </li>
      ))}
    </ol>
  );
});
