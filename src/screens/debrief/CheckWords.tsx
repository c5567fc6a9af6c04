import { memo, useMemo } from 'react';
import type { CheckCoverage } from '#shared/coverage';
import type { Catalogue } from '#shared/catalogue';
import { Mark } from '../parts/Mark.tsx';
import { Reasons } from '../parts/Reasons.tsx';
import { capital, missingWords, namesOf } from '../parts/words.ts';
import { ToldOf } from '../sheet/Explained.tsx';
import { Reviews } from '../sheet/Reviews.tsx';
import { useText } from '../text/text.ts';
import { readingWords } from './readings.ts';
import { when, type Talk, type Utterance } from './talk.ts';
import { Play } from './Words.tsx';

/** Every word that counted for or against one check. */
export const CheckWords = memo(function CheckWords({
  catalogue,
  coverage,
  talk,
}: {
  catalogue: Catalogue;
  coverage: CheckCoverage;
  talk: Talk;
}) {
  const t = useText();
  const names = namesOf(catalogue);
  const check = names.check.get(coverage.check);
  const { utterances } = talk;
  const heard = useMemo(() => heardFor(coverage, utterances), [coverage, utterances]);
  const missing = coverage.standing === 'part' ? missingWords(coverage, check) : '';
  const bare = capital(t(`standing-${coverage.standing}`));
  const standing = missing === '' ? bare : t('debrief-missing', { standing: bare, missing });
  return (
    <div className="check-words">
      <h3>
        <Mark of={coverage.standing} label="" /> {capital(check?.name ?? coverage.check)}
      </h3>
      <p>
        {coverage.reviewed === null
          ? standing
          : t('debrief-reviewed', { standing, reviewed: t(`standing-${coverage.reviewed}`) })}
      </p>
      <Reviews of={coverage.reviews} />
      <ToldOf coverage={coverage} />
      <Reasons reasons={coverage.reasons} />
      {heard.length > 0 && (
        <ol className="lines">
          {heard.map((u) => (
            <li key={u.event} className="heard-line">
              <span className="number quiet">{when(talk, u.from)}</span>
              <span>
                <span className="words">{u.heard.text}</span>
                <span className="quiet small">
                  {u.statements.map((s) => readingWords(s, names, t)).join(' · ')}
                </span>
              </span>
              {u.heard.sound !== null && <Play utterance={u} />}
            </li>
          ))}
        </ol>
      )}
    </div>
  );
});

/** Utterances behind the standing of a check, or about it without counting. */
function heardFor(coverage: CheckCoverage, utterances: readonly Utterance[]): readonly Utterance[] {
  const counted = new Set(coverage.statements);
  const behind = new Set(coverage.reasons.flatMap((r) => r.events));
  return utterances.filter(
    (u) =>
      behind.has(u.event) ||
      u.statements.some(
        (s) =>
          counted.has(s.id) ||
          (s.kind === 'observation' &&
            s.about.kind === 'check' &&
            s.about.check === coverage.check),
      ),
  );
}
