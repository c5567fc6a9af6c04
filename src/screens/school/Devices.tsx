import { useState } from 'react';
import type { DeviceLine } from '#shared/school';
import { useTell } from '../parts/Tell.tsx';
import { dateTime } from '../parts/words.ts';
import type { SchoolServices, SchoolView } from '../services.ts';
import { useText } from '../text/text.ts';
import { useAsked } from './useAsked.ts';
import { editionInWords } from './words.ts';

/** Every phone and desk: when it was seen, which editions it has, what was refused of it; one touch shuts it out. */
export function Devices({ school, view }: { school: SchoolServices; view: SchoolView }) {
  const t = useText();
  const [changes, setChanges] = useState(0);
  const answer = useAsked(() => school.devices(), view.news + changes * 1e6);
  const { tell, say } = useTell();
  const chief = view.hello?.roles.includes('chief') === true;
  if (answer === null) return null;
  if (!answer.ok) return <p className="notice">{t.said(answer.error)}</p>;
  const shut = async (device: DeviceLine) => {
    const outcome = await school.shutOut(device.device);
    if (tell(outcome)) say(t('phones-shut', { device: device.name }));
    setChanges((n) => n + 1);
  };
  return (
    <section aria-label={t('phones')}>
      <h2>{t('phones')}</h2>
      <ul className="lines devices">
        {answer.value.map((device) => (
          <li key={device.device} data-device={device.device}>
            <strong>{device.name}</strong>
            <span>
              {t(device.desk ? 'phones-desk' : 'phones-phone', {
                person: device.person ?? t('phones-shared'),
              })}
            </span>
            <span className="quiet">
              {device.seen === null
                ? t('phones-unseen')
                : t('phones-seen', { when: dateTime(device.seen) })}
            </span>
            {device.editions.map((e) => (
              <span key={e.catalogue}>{editionInWords(device.name, e, t)}</span>
            ))}
            {device.refused.length > 0 && (
              <details>
                <summary>{t('phones-refused', { n: device.refused.length })}</summary>
                <ul>
                  {device.refused.map((r) => (
                    <li key={`${r.at} ${r.why}`}>
                      {t('phones-why', { when: dateTime(r.at), why: t.said(r.why) })}
                    </li>
                  ))}
                </ul>
              </details>
            )}
            {device.shut !== null ? (
              <span className="warned">
                {t('phones-shut-since', { when: dateTime(device.shut) })}
              </span>
            ) : (
              chief && (
                <button
                  type="button"
                  className="press"
                  aria-label={t('phones-shut-out-of', { device: device.name })}
                  onClick={() => void shut(device)}
                >
                  {t('phones-shut-out')}
                </button>
              )
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}
