import { useState } from 'react';
import { useLocation } from 'wouter';
import { handOut } from '../parts/handOut.ts';
import { useHouse } from '../parts/house.ts';
import { useTell } from '../parts/Tell.tsx';
import { dateTime } from '../parts/words.ts';
import type { LetIn, WalkRecord } from '../services.ts';
import { useText } from '../text/text.ts';
import { LetInOffer } from './LetIn.tsx';

interface Shown {
  readonly record: WalkRecord;
  readonly put: (record: WalkRecord) => void;
}

/**
 * Who adds to a walk beside the device that began it. There: lets another one in
 * and gives it the walk. On one that was let in: goes on with it, and hands over
 * what was said. Nothing where one device walked alone and is done.
 */
export function Shared({ record, put }: Shown) {
  const { devices } = record;
  const t = useText();
  if (devices === undefined) return null;
  const { role, open, letIn, waiting } = devices;
  if (letIn.length === 0 && !(role === 'own' && open)) return null;
  return (
    <section className="shared" aria-labelledby="shared">
      <h2 id="shared">{t('shared-head')}</h2>
      {role === 'guest' && <p>{t(open ? 'shared-guest' : 'shared-guest-over')}</p>}
      {letIn.length === 0 && waiting.length === 0 && <p className="quiet">{t('shared-only')}</p>}
      {letIn.length > 0 && (
        <ul className="lines">
          {letIn.map((one) => (
            <Line key={one.device} of={one} />
          ))}
        </ul>
      )}
      {role === 'own' && open && (
        <>
          {waiting.map(({ device, events }) => (
            <p key={device}>{t('shared-waiting', { device: device.slice(0, 8), n: events })}</p>
          ))}
          <div className="tools noprint">
            <LetInOffer record={record} put={put} />
            {letIn.length > 0 && <Give record={record} />}
          </div>
        </>
      )}
      {role === 'guest' && open && <HandOver record={record} />}
    </section>
  );
}

function Line({ of }: { of: LetIn }) {
  const t = useText();
  return (
    <li>
      <strong>{of.name ?? t('key-nameless', { device: of.device.slice(0, 8) })}</strong>{' '}
      <span className="quiet">
        {t('shared-line', { by: of.by ?? '', when: dateTime(of.at), n: of.said })}
      </span>
    </li>
  );
}

/** The walk as a file, for the device that was let in. */
function Give({ record }: { record: WalkRecord }) {
  const house = useHouse();
  const { tell, say } = useTell();
  const t = useText();
  const { walkFile } = house;
  if (walkFile === undefined) return null;
  const give = async () => {
    const outcome = await walkFile(record.id);
    if (!tell(outcome) || !outcome.ok) return;
    await handOut(outcome.value.name, outcome.value.blob, true);
    say(t('shared-given', { file: outcome.value.name }));
  };
  return (
    <button type="button" className="press" onClick={() => void give()}>
      {t('shared-give')}
    </button>
  );
}

/** On a device that was let in. */
export function HandOver({ record }: { record: Pick<WalkRecord, 'id'> }) {
  const house = useHouse();
  const { tell } = useTell();
  const t = useText();
  const [, go] = useLocation();
  const on = async () => {
    if (tell(await house.takeUp(record.id))) go('/walk');
  };
  return (
    <>
      <p className="small">{t('shared-hand-over-note')}</p>
      <div className="tools noprint">
        <button type="button" className="press" onClick={() => void on()}>
          {t('shared-go-on')}
        </button>
        <HandOverPress walk={record.id} />
      </div>
    </>
  );
}

/** Seals what was said on this device and makes the file for the one that began the walk. */
export function HandOverPress({ walk, done }: { walk: string; done?: () => void }) {
  const house = useHouse();
  const { tell, say } = useTell();
  const t = useText();
  const [busy, setBusy] = useState(false);
  const { handOver, walkFile } = house;
  if (handOver === undefined || walkFile === undefined) return null;
  const press = async () => {
    setBusy(true);
    const sealed = await handOver(walk);
    const made = sealed.ok ? await walkFile(walk) : sealed;
    setBusy(false);
    if (!tell(made) || !made.ok || made.value === null) return;
    await handOut(made.value.name, made.value.blob, true);
    say(t('shared-handed', { file: made.value.name }));
    done?.();
  };
  return (
    <button type="button" className="press main glove" disabled={busy} onClick={() => void press()}>
      {t('shared-hand-over')}
    </button>
  );
}
