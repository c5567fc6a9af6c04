import { useState } from 'react';
import { useHouse } from '../parts/house.ts';
import { Modal } from '../parts/Modal.tsx';
import { useTell } from '../parts/Tell.tsx';
import { useText } from '../text/text.ts';

/** Throws an unfinished walk away, after a yes. Its words stay in the log, its findings stay squawks. */
export function DiscardWalk({
  walk,
  label,
  done,
}: {
  walk: string;
  /** On the button; left out: "Discard this walk". */
  label?: string;
  done: () => void;
}) {
  const house = useHouse();
  const { tell } = useTell();
  const t = useText();
  const [asked, setAsked] = useState(false);
  const [why, setWhy] = useState('');
  const close = () => setAsked(false);
  return (
    <>
      <button type="button" className="press discard" onClick={() => setAsked(true)}>
        {label ?? t('finish-discard')}
      </button>
      {asked && (
        <Modal title={t('discard-title')} close={close}>
          <div className="choices">
            <p>{t('discard-text')}</p>
            <label className="field">
              <span>{t('discard-why')}</span>
              <input value={why} autoComplete="off" onChange={(e) => setWhy(e.target.value)} />
            </label>
            <div className="tools">
              <button type="button" className="press glove" onClick={close}>
                {t('discard-no')}
              </button>
              <button
                type="button"
                className="press glove"
                onClick={() => {
                  close();
                  void house.discard(walk, why.trim() || null).then((o) => tell(o) && done());
                }}
              >
                {t('discard-yes')}
              </button>
            </div>
          </div>
        </Modal>
      )}
    </>
  );
}
