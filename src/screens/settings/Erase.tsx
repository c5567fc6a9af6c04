import { useState } from 'react';
import { useHouse } from '../parts/house.ts';
import { Modal } from '../parts/Modal.tsx';
import type { Outcome } from '../services.ts';

/** Erasing the sound of one person: a name, what will go, a yes, and what came of it. */
export function Erase() {
  const house = useHouse();
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
      <h2>Erase a person’s sound</h2>
      <form
        className="erase"
        onSubmit={(e) => {
          e.preventDefault();
          setCame(null);
          if (name !== '') setSure(true);
        }}
      >
        <label className="field">
          <span>Whose sound? The name as it stands on the walks.</span>
          <input
            value={person}
            autoComplete="off"
            required
            onChange={(e) => setPerson(e.target.value)}
          />
        </label>
        <button type="submit" className="press" disabled={busy}>
          {busy ? 'Erasing …' : 'Erase the sound …'}
        </button>
      </form>
      <p role="status">{came === null ? '' : came.ok ? came.value.text : came.error}</p>
      {sure && (
        <Modal title={`Erase the sound of ${name}?`} close={() => setSure(false)}>
          <div className="agree">
            <p>
              Every recording on this device in which {name} speaks is erased, the voices of others
              in it too. It cannot be undone. The words that were heard stay, and each record says
              that its sound was erased. Backups and other devices are not touched.
            </p>
            <div className="tools">
              <button type="button" className="press strong" onClick={() => void erase()}>
                Erase it
              </button>
              <button type="button" className="press" onClick={() => setSure(false)}>
                Keep it
              </button>
            </div>
          </div>
        </Modal>
      )}
    </section>
  );
}
