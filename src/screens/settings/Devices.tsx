import { useCallback, useEffect, useState } from 'react';
import { useHouse } from '../parts/house.ts';
import { KeyShown } from '../parts/KeyShown.tsx';
import { useTell } from '../parts/Tell.tsx';
import { dateTime } from '../parts/words.ts';
import type { KeyView } from '../services.ts';
import { useText } from '../text/text.ts';

/**
 * The keys that walks are sealed with: this device's own, in words and as a QR
 * code that any camera reads, and those of the devices whose walks were brought
 * in. Two people hold them side by side; only they can say whose a key is.
 */
export function Devices() {
  const house = useHouse();
  const { tell } = useTell();
  const t = useText();
  const [keys, setKeys] = useState<readonly KeyView[]>([]);
  const load = useCallback(async () => {
    const outcome = await house.keys?.();
    if (outcome?.ok === true) setKeys(outcome.value);
  }, [house]);
  useEffect(() => {
    let wanted = true;
    void house.keys?.().then((outcome) => {
      if (wanted && outcome.ok) setKeys(outcome.value);
    });
    return () => {
      wanted = false;
    };
  }, [house]);
  const { nameDevice, compareKey } = house;
  const own = keys.find((k) => k.own);
  if (own === undefined || nameDevice === undefined || compareKey === undefined) return null;
  const others = keys.filter((k) => !k.own);
  return (
    <section className="who-am-i" aria-labelledby="devices">
      <h2 id="devices">{t('key-own')}</h2>
      <p>{t('key-own-note')}</p>
      <label className="field">
        <span>{t('key-called')}</span>
        <input
          defaultValue={own.name ?? ''}
          autoComplete="off"
          maxLength={80}
          onBlur={(e) => void nameDevice(e.target.value).then(tell).then(load)}
        />
      </label>
      <KeyShown of={own} />
      {others.length > 0 && (
        <>
          <h2>{t('key-met')}</h2>
          <ul className="lines">
            {others.map((k) => (
              <li key={`${k.device} ${k.publicKey}`}>
                <p>
                  <strong>{k.name ?? t('key-nameless', { device: k.device.slice(0, 8) })}</strong>
                  {k.since > 0 && (
                    <span className="quiet"> {t('key-since', { when: dateTime(k.since) })}</span>
                  )}
                </p>
                {k.changed && <p>{t('key-changed')}</p>}
                <p className="key-words">{k.words}</p>
                <label className="tick">
                  <input
                    type="checkbox"
                    checked={k.compared}
                    onChange={(e) =>
                      void compareKey(k.publicKey, e.target.checked, k.device).then(tell).then(load)
                    }
                  />
                  {t('key-compared')}
                </label>
              </li>
            ))}
          </ul>
        </>
      )}
    </section>
  );
}
