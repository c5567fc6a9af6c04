import { countOf, findingCounts } from '#shared/counts';
import type { Coverage } from '#shared/coverage';
import { Mark, type Shape } from '../parts/Mark.tsx';
import { useText } from '../text/text.ts';

/** The sheet in numbers: the same ones as on finish, in the list and at the foot. */
export function Summary({ coverage }: { coverage: Coverage }) {
  const t = useText();
  const count = countOf(coverage.checks);
  const { findings, takenBack } = findingCounts(coverage);
  const unsaid = coverage.finished ? 'skipped' : 'unspoken';
  const rows: readonly { of: Shape; n: number; say: string }[] = [
    { of: 'part', n: count.part, say: t('standing-part') },
    { of: 'question', n: count.question, say: t('standing-question') },
    { of: unsaid, n: count.unsaid, say: t(`standing-${unsaid}`) },
    { of: 'set-aside', n: count.aside, say: t('standing-set-aside') },
    { of: 'finding', n: findings, say: t('finding-word', { n: findings }) },
  ];
  return (
    <ul className="summary">
      <li>
        <Mark of="spoken" label="" />
        <span>
          <strong>{count.spoken}</strong> {t('of-spoken', { required: count.required })}
          {count.touched > 0 && `, ${t('by-touch-count', { n: count.touched })}`}
        </span>
      </li>
      {rows
        .filter((r) => r.n > 0)
        .map((r) => (
          <li key={r.of}>
            <Mark of={r.of} label="" />
            <span>
              <strong>{r.n}</strong> {r.say}
              {r.of === 'finding' && takenBack > 0 && (
                <span className="quiet">, {t('taken-back-count', { n: takenBack })}</span>
              )}
            </span>
          </li>
        ))}
    </ul>
  );
}
