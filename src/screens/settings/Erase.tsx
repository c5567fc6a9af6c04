import { useState } from 'react';
import { useHouse } from '../parts/house.ts';
import { Modal } from '../parts/Modal.tsx';
import type { Outcome } from '../services.ts';
import { useText } from '../text/text.ts';

/** Erasing the sound of one person: a name, what will go, a yes, and what came of it. */
export function Erase() {
  const house = useHouse();
  const t = useText();
  const [person, setPerson] = useState('');
  const [sure, setSure] = useState(false);
  const [busy, setBusy] = useState(false);
  const [came, setCame] = useState<Outcome<{ readonly text: string }> | null>(null);
  const { eraseSound } = house;
  if (eraseSound === undefined) return null;
  const name = person.trim();
  const erase = async () => {
    setSure(false);
    setBusy(true);
    setCame(await eraseSound(name));
    setBusy(false);
  };
  return (
    <section className="who-am-i">
      <h2>{t('erase')}</h2>
      <form
        className="erase"
        onSubmit={(e) => {
          e.preventDefault();
          setCame(null);
          if (name !== '') setSure(true);
        }}
      >
        <label className="field">
          <span>{t('erase-whose')}</span>
          <input
            value={person}
            autoComplete="off"
            required
            onChange={(e) => setPerson(e.target.value)}
          />
        </label>
        <button type="submit" className="press" disabled={busy}>
          {t(busy ? 'erase-busy' : 'erase-offer')}
        </button>
      </form>
      <p role="status">{came === null ? '' : t.said(came.ok ? came.value.text : came.error)}</p>
      {sure && (
        <Modal title={t('erase-sure', { name })} close={() => setSure(false)}>
          <div className="agree">
            <p>{t('erase-note', { name })}</p>
            <div className="tools">
              <button type="button" className="press strong" onClick={() => void erase()}>
                {t('erase-yes')}
              </button>
              <button type="button" className="press" onClick={() => setSure(false)}>
                {t('erase-no')}
              </button>
            </div>
          </div>
        </Modal>
      )}
    </section>
  );
}
