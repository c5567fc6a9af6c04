import { Link, useLocation } from 'wouter';
import { useLive } from '../parts/live.ts';
import { useTell } from '../parts/Tell.tsx';
import { useText, type Text } from '../text/text.ts';
import type { Offer as Offered, Workshop } from './desk.ts';
import { Differences } from './Differences.tsx';

/** What came from elsewhere: who gave it, what it changes, and a yes or no. */
export function Offer({ shop }: { shop: Workshop }) {
  const t = useText();
  const offer = useLive(shop.offer);
  const { tell } = useTell();
  const [, go] = useLocation();
  if (offer === null)
    return (
      <div className="workshop">
        <header className="head">
          <h1>{t('shop-offer-none')}</h1>
        </header>
        <p>
          <Link href="/workshop">{t('shop-to-shelf')}</Link>
        </p>
      </div>
    );
  const accept = async () => {
    const outcome = await shop.accept();
    // The first screen offers it: there is nothing more to say.
    if (tell(outcome)) go('/');
  };
  return (
    <div className="workshop offer">
      <header className="head">
        <h1>
          {offer.version === null
            ? offer.name
            : t('shop-offer-version', { name: offer.name, version: offer.version })}
        </h1>
        <p>
          {t('shop-offer-size', {
            stations: t('stations', { n: offer.stations }),
            checks: t('checks', { n: offer.checks }),
          })}{' '}
          {offer.aircraft.length > 0 &&
            t('shop-offer-for', { aircraft: offer.aircraft.join(', ') })}
        </p>
      </header>
      <p>{signedWords(t, offer)}</p>
      {offer.differences === null ? (
        <p>{t('shop-offer-new')}</p>
      ) : (
        <section>
          <h2>{t('shop-offer-in-place')}</h2>
          <p className="quiet">{t('shop-offer-walks')}</p>
          <Differences of={offer.differences} />
        </section>
      )}
      <div className="tools">
        <button type="button" className="press main" onClick={() => void accept()}>
          {t(offer.differences === null ? 'shop-take' : 'shop-take-in-place')}
        </button>
        <button
          type="button"
          className="press"
          onClick={() => {
            shop.decline();
            go('/workshop');
          }}
        >
          {t('shop-leave')}
        </button>
      </div>
    </div>
  );
}

function signedWords(t: Text, { signed }: Offered): string {
  if (signed === null) return t('shop-unsigned');
  const by = signed.by === '' ? t('shop-nameless') : signed.by;
  const { sameAsBefore } = signed;
  const before = sameAsBefore === null ? 'unknown' : sameAsBefore ? 'same' : 'other';
  return [t('shop-signed', { by, key: signed.key }), t(`shop-key-${before}`, { by })].join(' ');
}
