import { PRIVACY } from '#capture';
import { Modal } from '../parts/Modal.tsx';
import { useText } from '../text/text.ts';

/** What the browser's recogniser does with the voice, and a yes to it. Without the yes nothing changes. */
export default function Agree({ yes, close }: { yes: () => void; close: () => void }) {
  const t = useText();
  return (
    <Modal title={t('agree-title')} close={close}>
      <div className="agree">
        <p>{t.said(PRIVACY)}</p>
        <div className="tools">
          <button
            type="button"
            className="press main"
            onClick={() => {
              yes();
              close();
            }}
          >
            {t('agree-yes')}
          </button>
          <button type="button" className="press" onClick={close}>
            {t('agree-no')}
          </button>
        </div>
      </div>
    </Modal>
  );
}
