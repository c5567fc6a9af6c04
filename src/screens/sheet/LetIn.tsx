import { useEffect, useState } from 'react';
import { useHouse } from '../parts/house.ts';
import { KeyShown } from '../parts/KeyShown.tsx';
import { useLive } from '../parts/live.ts';
import { Modal } from '../parts/Modal.tsx';
import type { KeyView, WalkRecord } from '../services.ts';
import { useText } from '../text/text.ts';

interface Shown {
  readonly record: WalkRecord;
  readonly put: (record: WalkRecord) => void;
}

/** Lets another device add to an open walk, once two people have compared its words. */
export function LetInOffer(shown: Shown) {
  const t = useText();
  const [open, setOpen] = useState(false);
  const { letIn, keys, readKey } = useHouse();
  if (letIn === undefined || keys === undefined || readKey === undefined) return null;
  return (
    <>
      <button type="button" className="press" onClick={() => setOpen(true)}>
        {t('let-in-offer')}
      </button>
      {open && (
        <Modal title={t('let-in-offer')} close={() => setOpen(false)}>
          <Steps {...shown} close={() => setOpen(false)} />
        </Modal>
      )}
    </>
  );
}

/** First which device, then whether it is that one: never both at a glance. */
function Steps({ record, put, close }: Shown & { close: () => void }) {
  const [picked, setPicked] = useState<KeyView | null>(null);
  return picked === null ? (
    <Which record={record} pick={setPicked} />
  ) : (
    <Compare
      record={record}
      of={picked}
      back={() => setPicked(null)}
      done={(next) => {
        close();
        put(next);
      }}
    />
  );
}

/** A device that was met, or one whose code a camera has read. */
function Which({ record, pick }: { record: WalkRecord; pick: (key: KeyView) => void }) {
  const house = useHouse();
  const t = useText();
  const [met, setMet] = useState<readonly KeyView[]>([]);
  const [code, setCode] = useState('');
  const [refused, setRefused] = useState<string | null>(null);
  const already = record.devices?.letIn ?? [];
  useEffect(() => {
    let wanted = true;
    void house.keys?.().then((outcome) => {
      if (wanted && outcome.ok) setMet(outcome.value.filter((k) => !k.own));
    });
    return () => {
      wanted = false;
    };
  }, [house]);
  const offered = met.filter((k) => !already.some((a) => a.words === k.words));
  const read = async () => {
    const outcome = await house.readKey?.(code);
    if (outcome === undefined) return;
    if (outcome.ok) pick(outcome.value);
    else setRefused(outcome.error);
  };
  return (
    <form
      className="choices"
      onSubmit={(e) => {
        e.preventDefault();
        void read();
      }}
    >
      <p>{t('let-in-note')}</p>
      {offered.map((k) => (
        <button
          key={`${k.device} ${k.publicKey}`}
          type="button"
          className="press glove"
          onClick={() => pick(k)}
        >
          {k.name ?? t('key-nameless', { device: k.device.slice(0, 8) })}
        </button>
      ))}
      <label className="field">
        <span>{t('let-in-code')}</span>
        <textarea
          rows={3}
          value={code}
          autoComplete="off"
          autoCapitalize="off"
          spellCheck={false}
          onChange={(e) => setCode(e.target.value)}
        />
      </label>
      {refused !== null && <p role="alert">{refused}</p>}
      <button type="submit" className="press" disabled={code.trim() === ''}>
        {t('let-in-read')}
      </button>
    </form>
  );
}

/** The words, large, and one press for each answer. */
function Compare({
  record,
  of,
  back,
  done,
}: {
  record: WalkRecord;
  of: KeyView;
  back: () => void;
  done: (next: WalkRecord) => void;
}) {
  const house = useHouse();
  const t = useText();
  const [by, setBy] = useState(useLive(house.settings).pilot);
  const [busy, setBusy] = useState(false);
  const [refused, setRefused] = useState<string | null>(null);
  const name = of.name ?? t('key-nameless', { device: of.device.slice(0, 8) });
  const same = async () => {
    setBusy(true);
    const outcome = await house.letIn?.(record.id, of, by);
    setBusy(false);
    if (outcome === undefined) return;
    if (outcome.ok) done(outcome.value);
    else setRefused(outcome.error);
  };
  return (
    <div className="choices">
      <p>{t('let-in-compare', { name })}</p>
      {of.changed && (
        <p>
          <strong>{t('key-changed')}</strong>
        </p>
      )}
      <KeyShown of={of} />
      <label className="field">
        <span>{t('let-in-by')}</span>
        <input
          value={by}
          autoComplete="name"
          maxLength={80}
          onChange={(e) => setBy(e.target.value)}
        />
      </label>
      {refused !== null && <p role="alert">{refused}</p>}
      <div className="tools">
        <button type="button" className="press" onClick={back}>
          {t('let-in-other')}
        </button>
        <button
          type="button"
          className="press main"
          disabled={busy || by.trim() === ''}
          onClick={() => void same()}
        >
          {t('let-in-same')}
        </button>
      </div>
    </div>
  );
}
