import { useText } from '../text/text.ts';
import './explained.css';
import { reviewWords, type Review } from '#shared/coverage';

/** What reviewers said, where the thing stands that they said it of: name, correction, note. */
export function Reviews({ of }: { of: readonly Review[] | undefined }) {
  const t = useText();
  if (of === undefined || of.length === 0) return null;
  return (
    <ul className="reviews" aria-label={t('sheet-reviewed')}>
      {of.map((review) => (
        <li key={review.event}>{reviewWords(review)}</li>
      ))}
    </ul>
  );
}
