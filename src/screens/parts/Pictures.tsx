import { useEffect, useState } from 'react';
import { PICTURE_MIME, type Picture, type Shown } from '#shared/picture';
import { useText } from '../text/text.ts';
import { useHouse } from './house.ts';
import { Modal } from './Modal.tsx';
import { useTell } from './Tell.tsx';
import './pictures.css';
import type { Outcome } from '../services.ts';

/** The pictures of a finding or a squawk; a touch shows one large. One that is not here is said in its place. */
export function Pictures({
  pictures,
  of,
}: {
  pictures: readonly Picture[] | undefined;
  /** What they show, in words. */
  of: string;
}) {
  const house = useHouse();
  if (house.pictures === undefined || pictures === undefined || pictures.length === 0) return null;
  return (
    <ul className="pictures">
      {pictures.map((p, i) => (
        <li key={p.hash}>
          <One picture={p} of={of} n={i + 1} />
        </li>
      ))}
    </ul>
  );
}

function One({ picture, of, n }: { picture: Picture; of: string; n: number }) {
  const t = useText();
  const [large, setLarge] = useState(false);
  const [erasures, setErasures] = useState(0);
  const { shown, address } = usePicture(picture.picture, picture.hash, erasures);
  const alt = t('picture-of', { n, of });
  if (shown === null) return null;
  if (shown.state === 'erased')
    return <p className="quiet">{t('picture-erased', { why: shown.why })}</p>;
  if (address === null)
    return (
      <p className="picture-gone">{t(shown.state === 'gone' ? 'picture-gone' : 'picture-no')}</p>
    );
  const image = <img src={address} alt={alt} width={picture.width} height={picture.height} />;
  return (
    <>
      <button type="button" className="picture" onClick={() => setLarge(true)}>
        {image}
      </button>
      {large && (
        <Modal title={alt} close={() => setLarge(false)}>
          <div className="picture-large">
            <div className="picture-whole">{image}</div>
            <Erase
              picture={picture.picture}
              done={() => {
                setLarge(false);
                setErasures(erasures + 1);
              }}
            />
          </div>
        </Modal>
      )}
    </>
  );
}

/** Erasing for good: a reason, and a second touch. */
function Erase({ picture, done }: { picture: string; done: () => void }) {
  const house = useHouse();
  const { tell } = useTell();
  const t = useText();
  const [why, setWhy] = useState<string | null>(null);
  if (why === null)
    return (
      <button type="button" className="press" onClick={() => setWhy('')}>
        {t('picture-erase')}
      </button>
    );
  return (
    <form
      className="picture-erase"
      onSubmit={(e) => {
        e.preventDefault();
        void house.pictures?.erase(picture, why).then((o) => tell(o) && done());
      }}
    >
      <p>{t('picture-erase-note')}</p>
      <label className="field">
        <span>{t('picture-erase-why')}</span>
        <input value={why} required maxLength={200} onChange={(e) => setWhy(e.target.value)} />
      </label>
      <button type="submit" className="press strong">
        {t('picture-erase-yes')}
      </button>
    </form>
  );
}

/** Takes a picture with one touch: on a phone by its camera, elsewhere from a file. */
export function TakePicture({
  of,
  attach,
  files = false,
  small = false,
  kept = 0,
}: {
  of: string;
  attach: (file: File) => Promise<Outcome>;
  /** How many there are, where they are not shown beside it. */
  kept?: number;
  /** Also offers a picture that was taken before. */
  files?: boolean;
  /** A camera in place of the word, where words need the room. */
  small?: boolean;
}) {
  const house = useHouse();
  if (house.pictures === undefined) return null;
  return (
    <div className="take-pictures noprint">
      <Take of={of} attach={attach} kept={kept} camera small={small} />
      {files && <Take of={of} attach={attach} kept={0} camera={false} small={false} />}
    </div>
  );
}

function Take({
  of,
  attach,
  camera,
  small,
  kept,
}: {
  of: string;
  attach: (file: File) => Promise<Outcome>;
  camera: boolean;
  small: boolean;
  kept: number;
}) {
  const { tell, say } = useTell();
  const t = useText();
  const [busy, setBusy] = useState(false);
  const take = async (file: File) => {
    setBusy(true);
    if (tell(await attach(file))) say(t('picture-kept', { of }));
    setBusy(false);
  };
  return (
    <label className={`press take-picture${small ? ' is-small' : ''}`}>
      <input
        type="file"
        accept="image/*"
        {...(camera ? { capture: 'environment' as const } : {})}
        className="unseen"
        aria-label={t(camera ? 'picture-take-of' : 'picture-file-of', { of })}
        disabled={busy}
        onChange={(e) => {
          const [file] = e.target.files ?? [];
          if (file !== undefined) void take(file);
          // The same file may be chosen again.
          e.target.value = '';
        }}
      />
      {small ? (
        <>
          <Camera />
          {(busy || kept > 0) && <span aria-hidden="true">{busy ? '…' : kept}</span>}
        </>
      ) : (
        <span aria-hidden="true">
          {t(busy ? 'picture-busy' : camera ? 'picture-take' : 'picture-file')}
          {kept > 0 && ` (${kept})`}
        </span>
      )}
    </label>
  );
}

function Camera() {
  return (
    <svg viewBox="0 0 32 32" aria-hidden="true">
      <path
        fill="none"
        stroke="currentColor"
        strokeWidth="2.5"
        strokeLinejoin="round"
        d="M3 9h7l3-4h6l3 4h7v18H3z"
      />
      <circle cx="16" cy="17" r="5.5" fill="none" stroke="currentColor" strokeWidth="2.5" />
    </svg>
  );
}

/** A picture and the address that it is shown from; the address is given back when it is not shown any more. */
function usePicture(picture: string, hash: string, again: number) {
  const house = useHouse();
  const [found, setFound] = useState<{ shown: Shown | null; address: string | null }>({
    shown: null,
    address: null,
  });
  useEffect(() => {
    let address: string | null = null;
    let gone = false;
    void house.pictures?.open(picture, hash).then((outcome) => {
      if (gone) return;
      const shown: Shown = outcome.ok ? outcome.value : { state: 'gone' };
      // What a file brought may call itself anything: only what we make is shown.
      if (shown.state === 'here' && shown.mime === PICTURE_MIME)
        address = URL.createObjectURL(new Blob([shown.data], { type: shown.mime }));
      setFound({ shown, address });
    });
    return () => {
      gone = true;
      if (address !== null) URL.revokeObjectURL(address);
    };
  }, [house, picture, hash, again]);
  return found;
}
