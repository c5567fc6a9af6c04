import { useEffect, useState } from 'react';
import { useLocation } from 'wouter';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { Modal } from '../parts/Modal.tsx';
import { useText } from '../text/text.ts';
import type { Review, Workshop } from './desk.ts';
import { Differences } from './Differences.tsx';

/** What the next edition changes, who gives it out and why. */
export function Publish({ shop, id, close }: { shop: Workshop; id: string; close: () => void }) {
  const t = useText();
  const { pilot } = useLive(useHouse().settings);
  const [, go] = useLocation();
  const [review, setReview] = useState<Review | null>(null);
  const [error, setError] = useState<string | null>(null);
  const [by, setBy] = useState(pilot);
  const [why, setWhy] = useState('');
  useEffect(() => {
    let still = true;
    void shop.review(id).then((outcome) => {
      if (!still) return;
      if (outcome.ok) setReview(outcome.value);
      else setError(outcome.error);
    });
    return () => {
      still = false;
    };
  }, [shop, id]);
  const publish = async () => {
    const outcome = await shop.publish(id, by, why);
    if (!outcome.ok) {
      setError(outcome.error);
      return;
    }
    go('/workshop');
  };
  return (
    <Modal
      title={
        review === null ? t('shop-publish') : t('shop-publish-version', { version: review.version })
      }
      close={close}
    >
      {error !== null && (
        <div className="notice refused" role="alert">
          <p>{error}</p>
        </div>
      )}
      {review !== null && (
        <form
          className="publish"
          onSubmit={(e) => {
            e.preventDefault();
            void publish();
          }}
        >
          {review.open > 0 && (
            <p>
              <strong>{t('shop-publish-open', { n: review.open })}</strong>
            </p>
          )}
          {review.differences === null ? (
            <p>{t('shop-publish-first')}</p>
          ) : (
            <section>
              <h3>{t('shop-publish-different')}</h3>
              <Differences of={review.differences} />
              <p className="small quiet">{t('shop-publish-walks')}</p>
            </section>
          )}
          <label className="field">
            <span>{t('shop-publish-by')}</span>
            <input value={by} autoComplete="name" onChange={(e) => setBy(e.target.value)} />
          </label>
          <label className="field">
            <span>{t('shop-publish-why')}</span>
            <input value={why} autoComplete="off" onChange={(e) => setWhy(e.target.value)} />
          </label>
          <button type="submit" className="press main">
            {t('shop-publish-version', { version: review.version })}
          </button>
        </form>
      )}
    </Modal>
  );
}
