import './explained.css';
import { reviewWords, type Review } from '#shared/coverage';

/** What reviewers said, where the thing stands that they said it of: name, correction, note. */
export function Reviews({ of }: { of: readonly Review[] | undefined }) {
  if (of === undefined || of.length === 0) return null;
  return (
    <ul className="reviews" aria-label="Reviewed">
      {of.map((review) => (
        <li key={review.event}>{reviewWords(review)}</li>
      ))}
    </ul>
  );
}
