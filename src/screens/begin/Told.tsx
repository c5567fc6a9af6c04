import type { ReactNode } from 'react';
import { useHouse } from '../parts/house.ts';
import { never, useLive } from '../parts/live.ts';
import { useText } from '../text/text.ts';

/** A sentence on one line, cut where the line ends; whole, with what can be done, once it is opened. */
function OneLine({
  label,
  sentence,
  children,
}: {
  label: string;
  sentence: string;
  children?: ReactNode;
}) {
  return (
    <section aria-label={label}>
      <details className="one-told">
        <summary>
          <span>{sentence}</span>
        </summary>
        {children}
      </details>
    </section>
  );
}

/** Room and storage, the worst first; the others under it. */
export function Warnings({ warnings }: { warnings: readonly string[] }) {
  const t = useText();
  const [worst, ...others] = warnings;
  if (worst === undefined) return null;
  return (
    <OneLine label={t('begin-storage')} sentence={t.said(worst)}>
      {others.map((text) => (
        <p key={text}>{t.said(text)}</p>
      ))}
    </OneLine>
  );
}

/** A new version that waits. Never shown while a walk is in progress. */
export function NewVersion() {
  const house = useHouse();
  const t = useText();
  const update = useLive(house.updates ?? never);
  const walking = useLive(house.walk) !== null;
  if (update === null || walking) return null;
  return (
    <OneLine label={t('begin-version')} sentence={t.said(update.sentence)}>
      <button type="button" className="press" onClick={() => update.apply()}>
        {t('begin-version-load')}
      </button>
    </OneLine>
  );
}

/** No copy for use without a network: said before the walk, since on the ramp it is too late. */
export function NoCopy() {
  const house = useHouse();
  const t = useText();
  const uncopied = useLive(house.uncopied ?? never);
  if (uncopied === null) return null;
  return (
    <OneLine label={t('begin-network')} sentence={t.said(uncopied.sentence)}>
      {uncopied.help !== null && (
        <a className="press" href={uncopied.help}>
          {t('begin-network-help')}
        </a>
      )}
    </OneLine>
  );
}

/** The browser's own recogniser could be installed: offered once, and not again after a no. */
export function LocalOffer() {
  const house = useHouse();
  const t = useText();
  const now = useLive(house.localEar?.now ?? never);
  if (now === null || house.localEar === undefined) return null;
  if (now.state === 'coming') return <p className="one-told">{t('local-coming')}</p>;
  if (now.state !== 'offered' || now.declined) return null;
  const { localEar } = house;
  return (
    <OneLine label={t('local-title')} sentence={t('local-offer')}>
      {now.why !== undefined && <p>{t.said(now.why)}</p>}
      <div className="tools">
        <button type="button" className="press" onClick={() => void localEar.install()}>
          {t('local-yes')}
        </button>
        <button type="button" className="press" onClick={() => void localEar.decline()}>
          {t('local-no')}
        </button>
      </div>
    </OneLine>
  );
}
