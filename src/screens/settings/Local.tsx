import { useHouse } from '../parts/house.ts';
import { never, useLive } from '../parts/live.ts';
import { useText } from '../text/text.ts';

/** The browser's own recogniser on this device: whether it is there, and getting it, also after a no. */
export function Local() {
  const house = useHouse();
  const t = useText();
  const now = useLive(house.localEar?.now ?? never);
  const { localEar } = house;
  if (now === null || localEar === undefined || now.state === 'none') return null;
  return (
    <section className="who-am-i">
      <h2>{t('local-title')}</h2>
      <p role="status">{t(WORDS[now.state])}</p>
      {now.state === 'offered' && (
        <>
          {now.why !== undefined && <p role="alert">{t.said(now.why)}</p>}
          <button type="button" className="press" onClick={() => void localEar.install()}>
            {t('local-yes')}
          </button>
        </>
      )}
    </section>
  );
}

const WORDS = { here: 'settings-local', coming: 'local-coming', offered: 'local-offer' } as const;
