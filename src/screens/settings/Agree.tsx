import { PRIVACY } from '#capture';
import { Modal } from '../parts/Modal.tsx';

/** What the browser's recogniser does with the voice, and a yes to it. Without the yes nothing changes. */
export default function Agree({ yes, close }: { yes: () => void; close: () => void }) {
  return (
    <Modal title="The sound leaves this device" close={close}>
      <div className="agree">
        <p>{PRIVACY}</p>
        <div className="tools">
          <button
            type="button"
            className="press main"
            onClick={() => {
              yes();
              close();
            }}
          >
            Yes, use it
          </button>
          <button type="button" className="press" onClick={close}>
            No, stay on this device
          </button>
        </div>
      </div>
    </Modal>
  );
}
