import { Link } from 'wouter';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { useTell } from '../parts/Tell.tsx';
import { useText } from '../text/text.ts';

/** What a gloved thumb presses: take it back, go to the end, and hold or listen. */
export function Hands() {
  const house = useHouse();
  const { tell } = useTell();
  const t = useText();
  const now = useLive(house.listening);
  const walk = useLive(house.walk);
  const held = now.state === 'held';
  return (
    <footer className="hands">
      <button
        type="button"
        className="press glove wrong"
        disabled={walk?.last === null}
        onClick={() => void house.wrong().then(tell)}
      >
        {t('wrong')}
      </button>
      {now.state !== 'typed' && (
        <Link className="press glove finish-link" href="/finish" aria-label={t('finish-the-walk')}>
          {t('finish-short')}
        </Link>
      )}
      {now.state === 'deaf' ? (
        <button type="button" className="press main glove" onClick={() => house.resume()}>
          {t('listen-again')}
        </button>
      ) : now.state === 'typed' ? (
        <Link className="press main glove" href="/finish" aria-label={t('finish-the-walk')}>
          {t('finish-short')}
        </Link>
      ) : (
        <button
          type="button"
          className={`press glove ${held ? 'main' : 'strong'}`}
          onClick={() => (held ? house.resume() : house.hold())}
        >
          {t(held ? 'resume' : 'hold')}
        </button>
      )}
    </footer>
  );
}
