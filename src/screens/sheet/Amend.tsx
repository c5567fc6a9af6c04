import { useState, type FormEvent } from 'react';
import { Link } from 'wouter';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { Modal } from '../parts/Modal.tsx';
import { useTell } from '../parts/Tell.tsx';
import type { WalkRecord } from '../services.ts';
import { useText } from '../text/text.ts';

/** Something that has to be said after the signature: beside the walk, never in its coverage (R6). */
export function Amend({ record, put }: { record: WalkRecord; put: (record: WalkRecord) => void }) {
  const house = useHouse();
  const t = useText();
  const [open, setOpen] = useState(false);
  if (house.amend === undefined || record.coverage.signed === null) return null;
  return (
    <div className="tools noprint">
      <button type="button" className="press" onClick={() => setOpen(true)}>
        {t('amend-offer')}
      </button>
      {open && (
        <Modal title={t('amend-offer')} close={() => setOpen(false)}>
          <AmendForm
            record={record}
            done={(next) => {
              setOpen(false);
              put(next);
            }}
          />
        </Modal>
      )}
    </div>
  );
}

function AmendForm({ record, done }: { record: WalkRecord; done: (next: WalkRecord) => void }) {
  const house = useHouse();
  const { tell } = useTell();
  const t = useText();
  const [by, setBy] = useState(useLive(house.settings).pilot);
  const [note, setNote] = useState('');
  const [busy, setBusy] = useState(false);
  /** What was refused stands in the form: the sentence above lies behind it. */
  const [refused, setRefused] = useState<string | null>(null);
  const send = async (event: FormEvent) => {
    event.preventDefault();
    if (busy) return;
    setBusy(true);
    const outcome = await house.amend?.(record.id, by, note);
    setBusy(false);
    if (outcome === undefined) return;
    if (tell(outcome) && outcome.ok) done(outcome.value);
    else if (!outcome.ok) setRefused(outcome.error);
  };
  return (
    <form className="choices" onSubmit={(e) => void send(e)}>
      <p>{t('amend-note')}</p>
      <label className="field">
        <span>{t('amend-words')}</span>
        <textarea rows={4} value={note} required onChange={(e) => setNote(e.target.value)} />
      </label>
      <label className="field">
        <span>{t('amend-by')}</span>
        <input
          value={by}
          required
          autoComplete="name"
          maxLength={80}
          onChange={(e) => setBy(e.target.value)}
        />
      </label>
      {refused !== null && <p role="alert">{refused}</p>}
      <p className="small">
        <Link href={`/squawk/${encodeURIComponent(record.aircraft)}`}>{t('amend-squawk')}</Link>
      </p>
      <button
        type="submit"
        className="press main glove"
        disabled={busy || by.trim() === '' || note.trim() === ''}
      >
        {t('amend-add')}
      </button>
    </form>
  );
}
