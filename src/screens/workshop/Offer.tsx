import { useState } from 'react';
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
  const [yes, setYes] = useState(false);
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
    const outcome = await shop.accept(yes);
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
      {offer.moves.length > 0 && (
        <section>
          <h2>{t('shop-offer-moves')}</h2>
          <ul className="lines">
            {offer.moves.map((m) => (
              <li key={m.aircraft}>
                {t('shop-offer-move', { aircraft: m.aircraft, from: m.from })}
              </li>
            ))}
          </ul>
        </section>
      )}
      {offer.learned !== null && <Learned of={offer.learned} yes={yes} setYes={setYes} />}
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

/** What was learned on its aircraft: what makes nothing milder comes with it, the rest only with a yes. */
function Learned({
  of,
  yes,
  setYes,
}: {
  of: NonNullable<Offered['learned']>;
  yes: boolean;
  setYes: (yes: boolean) => void;
}) {
  const t = useText();
  return (
    <section>
      <h2>{t('shop-offer-learned')}</h2>
      <p>{t('shop-offer-phrases', { n: of.phrases })}</p>
      {of.asks.length > 0 && (
        <>
          <p>{t('shop-offer-asks')}</p>
          <ul className="lines">
            {of.asks.map((line) => (
              <li key={line.id}>
                <q>{line.phrase}</q> {line.means}
                {line.speaker !== null && <span className="small quiet"> {line.speaker}</span>}
              </li>
            ))}
          </ul>
          <label className="tick">
            <input type="checkbox" checked={yes} onChange={(e) => setYes(e.target.checked)} />
            <span>{t('shop-offer-asks-yes')}</span>
          </label>
        </>
      )}
    </section>
  );
}

function signedWords(t: Text, { signed }: Offered): string {
  if (signed === null) return t('shop-unsigned');
  const by = signed.by === '' ? t('shop-nameless') : signed.by;
  const { sameAsBefore } = signed;
  const before = sameAsBefore === null ? 'unknown' : sameAsBefore ? 'same' : 'other';
  return [t('shop-signed', { by, key: signed.key }), t(`shop-key-${before}`, { by })].join(' ');
}
