import { useState } from 'react';
import type { DeviceLine } from '#shared/school';
import { useTell } from '../parts/Tell.tsx';
import { dateTime } from '../parts/words.ts';
import type { SchoolServices, SchoolView } from '../services.ts';
import { useAsked } from './useAsked.ts';

/** Every phone and desk: when it was seen, which editions it has, what was refused of it; one touch shuts it out. */
export function Devices({ school, view }: { school: SchoolServices; view: SchoolView }) {
  const [changes, setChanges] = useState(0);
  const answer = useAsked(() => school.devices(), view.news + changes * 1e6);
  const { tell, say } = useTell();
  const chief = view.hello?.roles.includes('chief') === true;
  if (answer === null) return null;
  if (!answer.ok) return <p className="notice">{answer.error}</p>;
  const shut = async (device: DeviceLine) => {
    const outcome = await school.shutOut(device.device);
    if (tell(outcome)) say(`${device.name} is shut out: nothing of it enters any more.`);
    setChanges((n) => n + 1);
  };
  return (
    <section aria-label="Devices">
      <h2>Devices</h2>
      <ul className="lines devices">
        {answer.value.map((device) => (
          <li key={device.device} data-device={device.device}>
            <strong>{device.name}</strong>
            <span>
              {device.desk ? 'desk' : 'phone'}, {device.person ?? 'shared'}
            </span>
            <span className="quiet">
              {device.seen === null ? 'not seen yet' : `seen ${dateTime(device.seen)}`}
            </span>
            {device.editions.map((e) => (
              <span key={e.catalogue}>{editionInWords(device.name, e)}</span>
            ))}
            {device.refused.length > 0 && (
              <details>
                <summary>{device.refused.length} not taken</summary>
                <ul>
                  {device.refused.map((r) => (
                    <li key={`${r.at} ${r.why}`}>
                      {dateTime(r.at)}: {r.why}
                    </li>
                  ))}
                </ul>
              </details>
            )}
            {device.shut !== null ? (
              <span className="warned">shut out {dateTime(device.shut)}</span>
            ) : (
              chief && (
                <button
                  type="button"
                  className="press"
                  aria-label={`Shut ${device.name} out`}
                  onClick={() => void shut(device)}
                >
                  Shut out
                </button>
              )
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}

function editionInWords(name: string, e: DeviceLine['editions'][number]): string {
  const has =
    e.has === null ? `has no edition of ${e.catalogue}` : `has edition ${e.has} of ${e.catalogue}`;
  return e.waiting === null ? `${name} ${has}` : `${name} ${has}, edition ${e.waiting} is waiting`;
}
