import type { CheckCoverage, Coverage, SaidOf } from '#shared/coverage';
import { toldCount, toldIn } from '#shared/told';
import { useText, type Text } from '../text/text.ts';
import './explained.css';

const CLASSES = [
  ['reported', 'told-reported'],
  ['done', 'told-done'],
  ['explained', 'told-explained'],
] as const;

/** One sentence for a walk on which things were explained; null for any other. */
export function useToldSum({ checks }: Coverage): string | null {
  const t = useText();
  const { explained, done, reported, checks: all } = toldCount(checks);
  return explained === 0 ? null : t('told-sum', { checks: all, explained, done, reported });
}

/** One sentence where things were explained on the walk; nothing on any other. */
export function ToldSum({ coverage }: { coverage: Coverage }) {
  const sentence = useToldSum(coverage);
  return sentence === null ? null : <p className="told-sum">{sentence}</p>;
}

/** Whether a check was reported, done or explained, each with its words (R2). */
export function ToldOf({ coverage }: { coverage: CheckCoverage }) {
  const t = useText();
  const told = toldIn(coverage);
  const rows = CLASSES.filter(([of]) => told[of].length > 0);
  if (rows.length === 0) return null;
  return (
    <dl className="told">
      {rows.map(([of, name]) => (
        <div key={of}>
          <dt>
            <ToldMark of={of} /> {t(name)}
          </dt>
          <dd className="words-plain">{quotedWords(told[of], t)}</dd>
        </div>
      ))}
    </dl>
  );
}

/** The words of one class, each once, quoted, with what kind of talk it was; teaching goes without saying. */
function quotedWords(said: readonly SaidOf[], t: Text): string {
  const each = said.map(({ words, force }) => {
    const quoted = t('quoted', { words });
    return force === 'result' || force === 'teaching'
      ? quoted
      : t(`talk-${force}`, { words: quoted });
  });
  return [...new Set(each)].join('; ');
}

/** Told apart by shape: a filled square for a report, a struck one for an act, a speech bubble for talk. */
export function ToldMark({
  of,
  label = '',
}: {
  of: 'explained' | 'done' | 'reported';
  label?: string;
}) {
  return (
    <svg
      className={`mark told-mark is-${of}`}
      viewBox="0 0 20 20"
      {...(label === '' ? { 'aria-hidden': true } : { role: 'img', 'aria-label': label })}
    >
      {of === 'reported' && <rect x="3" y="3" width="14" height="14" fill="currentColor" />}
      {of === 'done' && (
        <path d="M3 17V3h14z" fill="currentColor" stroke="currentColor" strokeWidth="1.5" />
      )}
      {of === 'explained' && (
        <path
          d="M3 4.5h14v9H9.5L5.5 17v-3.5H3z"
          fill="none"
          stroke="currentColor"
          strokeWidth="2"
          strokeLinejoin="round"
        />
      )}
    </svg>
  );
}
