import type { Reason } from '#shared/coverage';
import { useText } from '../text/text.ts';

/** Why something stands as it does: the sentence, the words, the rule. */
export function Reasons({ reasons }: { reasons: readonly Reason[] }) {
  const t = useText();
  if (reasons.length === 0) return <p className="small quiet">{t('nothing-said')}</p>;
  return (
    <ul className="reasons">
      {reasons.map((r, i) => (
        <li key={i}>
          {t.said(r.text)} {r.words !== null && <span className="words">{r.words}</span>}{' '}
          <span className="quiet small">{r.rule}</span>
        </li>
      ))}
    </ul>
  );
}
