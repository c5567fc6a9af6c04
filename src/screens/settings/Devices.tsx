import { useCallback, useEffect, useState } from 'react';
import { useHouse } from '../parts/house.ts';
import { useTell } from '../parts/Tell.tsx';
import { dateTime } from '../parts/words.ts';
import type { KeyView } from '../services.ts';

/**
 * The keys that walks are sealed with: this device's own, in words and as a QR
 * code that any camera reads, and those of the devices whose walks were brought
 * in. Two people hold them side by side; only they can say whose a key is.
 */
export function Devices() {
  const house = useHouse();
  const { tell } = useTell();
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
      <h2 id="devices">This device’s key</h2>
      <p>
        What is signed here is sealed with it. Read the words to whoever brings your walks in, or
        let their camera read the code: the same words on both devices, and it is yours.
      </p>
      <label className="field">
        <span>What this device is called</span>
        <input
          defaultValue={own.name ?? ''}
          autoComplete="off"
          maxLength={80}
          onBlur={(e) => void nameDevice(e.target.value).then(tell).then(load)}
        />
      </label>
      <p className="key-words">{own.words}</p>
      <Code of={own} />
      {others.length > 0 && (
        <>
          <h2>Devices met</h2>
          <ul className="lines">
            {others.map((k) => (
              <li key={`${k.device} ${k.publicKey}`}>
                <p>
                  <strong>{k.name ?? `Device ${k.device.slice(0, 8)}`}</strong>
                  {k.since > 0 && <span className="quiet"> since {dateTime(k.since)}</span>}
                </p>
                {k.changed && (
                  <p>
                    A new key of a device that was known by another. Do not tick it before its
                    holder has read you the words.
                  </p>
                )}
                <p className="key-words">{k.words}</p>
                <label className="tick">
                  <input
                    type="checkbox"
                    checked={k.compared}
                    onChange={(e) =>
                      void compareKey(k.publicKey, e.target.checked).then(tell).then(load)
                    }
                  />
                  We compared the words
                </label>
              </li>
            ))}
          </ul>
        </>
      )}
    </section>
  );
}

/** Modules of quiet around a QR code (ISO/IEC 18004 asks for four). */
const QUIET = 4;

function Code({ of }: { of: KeyView }) {
  const house = useHouse();
  const [code, setCode] = useState<{ size: number; path: string } | null>(null);
  useEffect(() => {
    let wanted = true;
    void house.keyCode?.(of).then((outcome) => {
      if (wanted && outcome.ok) setCode(outcome.value);
    });
    return () => {
      wanted = false;
    };
  }, [house, of]);
  if (code === null) return null;
  const side = code.size + 2 * QUIET;
  return (
    <svg
      className="key-code"
      viewBox={`${-QUIET} ${-QUIET} ${side} ${side}`}
      role="img"
      aria-label={`QR code of the words ${of.words}`}
    >
      <rect x={-QUIET} y={-QUIET} width={side} height={side} className="key-paper" />
      <path d={code.path} className="key-ink" />
    </svg>
  );
}
