import { useEffect, useId, useRef, type ReactNode } from 'react';
import { useText } from '../text/text.ts';

/** A dialog over the screen: focus goes in, Escape and "Close" come out, focus goes back. */
export function Modal({
  title,
  close,
  children,
}: {
  title: string;
  close: () => void;
  children: ReactNode;
}) {
  const box = useRef<HTMLDialogElement>(null);
  const id = useId();
  const t = useText();
  useEffect(() => {
    const dialog = box.current;
    const before = document.activeElement;
    if (dialog !== null && !dialog.open) dialog.showModal();
    return () => {
      dialog?.close();
      if (before instanceof HTMLElement) before.focus();
    };
  }, []);
  return (
    <dialog
      ref={box}
      aria-labelledby={id}
      onCancel={(e) => {
        e.preventDefault();
        close();
      }}
      onClick={(e) => {
        if (e.target === box.current) close();
      }}
    >
      <div className="modal-head">
        <h2 id={id}>{title}</h2>
        <button type="button" className="press" onClick={close}>
          {t('close')}
        </button>
      </div>
      {children}
    </dialog>
  );
}
