import { Link, useLocation } from 'wouter';
import { useLive } from '../parts/live.ts';
import { useTell } from '../parts/Tell.tsx';
import { many } from '../parts/words.ts';
import type { Offer as Offered, Workshop } from './desk.ts';
import { Differences } from './Differences.tsx';

/** What came from elsewhere: who gave it, what it changes, and a yes or no. */
export function Offer({ shop }: { shop: Workshop }) {
  const offer = useLive(shop.offer);
  const { tell } = useTell();
  const [, go] = useLocation();
  if (offer === null)
    return (
      <div className="workshop">
        <header className="head">
          <h1>Nothing waits to be taken</h1>
        </header>
        <p>
          <Link href="/workshop">To the catalogues</Link>
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
          {offer.name}
          {offer.version !== null && `, version ${offer.version}`}
        </h1>
        <p>
          {many(offer.stations, 'station')}, {many(offer.checks, 'check')}.{' '}
          {offer.aircraft.length > 0 && `For ${offer.aircraft.join(', ')}.`}
        </p>
      </header>
      <p>{signedWords(offer)}</p>
      {offer.differences === null ? (
        <p>There is no catalogue of this kind on this device yet.</p>
      ) : (
        <section>
          <h2>It takes the place of the one that is here</h2>
          <p className="quiet">
            For walks to come. Walks that were made keep the edition they were made with.
          </p>
          <Differences of={offer.differences} />
        </section>
      )}
      <div className="tools">
        <button type="button" className="press main" onClick={() => void accept()}>
          {offer.differences === null ? 'Take it' : 'Take it in its place'}
        </button>
        <button
          type="button"
          className="press"
          onClick={() => {
            shop.decline();
            go('/workshop');
          }}
        >
          Leave it
        </button>
      </div>
    </div>
  );
}

function signedWords({ signed }: Offered): string {
  if (signed === null) return 'Nobody signed this file. Take it only from somebody you know.';
  const by = signed.by === '' ? 'somebody who gives no name' : signed.by;
  const key = `Signed by ${by}, on the device with the key ${signed.key}, and unchanged since.`;
  if (signed.sameAsBefore === true)
    return `${key} The edition that is here came from the same device.`;
  if (signed.sameAsBefore === false)
    return `${key} The edition that is here came from another device: ask ${by} whether the key is theirs.`;
  return `${key} Whose key it is, only ${by} can tell you.`;
}
