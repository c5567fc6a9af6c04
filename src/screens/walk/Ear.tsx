import { useEffect, useRef } from 'react';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import type { Listening } from '../services.ts';
import { useText, type Text } from '../text/text.ts';

const STATE_WORDS: Readonly<Record<Listening['state'], string>> = {
  starting: 'ear-starting',
  listening: 'ear-listening',
  speaking: 'ear-speaking',
  held: 'ear-held',
  typed: 'ear-typed-now',
  deaf: 'ear-deaf',
};

/**
 * Whether it hears, to be told from three metres: a full block of the course
 * colour while it listens, a hatched block on hold, an amber block when it
 * should hear and does not. The line under the word moves with the voice.
 */
export function Ear({ aircraft }: { aircraft: string }) {
  const house = useHouse();
  const now = useLive(house.listening);
  const t = useText();
  return (
    <header className={`ear is-${now.state}`}>
      <p className="ear-word" role="status">
        {t(STATE_WORDS[now.state])}
      </p>
      <p className="ear-note small">{noteOf(now, aircraft, t)}</p>
      {now.state === 'starting' ? <Loaded share={now.loaded} /> : <Level />}
    </header>
  );
}

function noteOf(now: Listening, aircraft: string, t: Text): string {
  switch (now.state) {
    case 'starting':
      return now.loaded === undefined
        ? t('ear-note-starting')
        : t('ear-note-loading', { percent: Math.floor(now.loaded * 100) });
    case 'listening':
      if (now.here !== undefined) return t(`ear-here-${now.here}`, { aircraft });
      return now.sentAway ? t('ear-note-sent-away', { aircraft }) : aircraft;
    case 'speaking':
      return t('ear-note-speaking');
    case 'held':
      return t('ear-note-held');
    case 'typed':
      return t('ear-note-typed', { aircraft });
    case 'deaf':
      return t.said(now.why);
  }
}

/** How much of the recogniser is here, as a bar in the place of the voice. */
function Loaded({ share }: { share: number | undefined }) {
  const t = useText();
  const bar = useRef<HTMLSpanElement>(null);
  useEffect(() => {
    bar.current?.style.setProperty('--level', (share ?? 0).toFixed(2));
  }, [share]);
  if (share === undefined) return null;
  return (
    <span
      className="level"
      ref={bar}
      role="progressbar"
      aria-label={t('ear-loaded')}
      aria-valuemin={0}
      aria-valuemax={100}
      aria-valuenow={Math.floor(share * 100)}
    />
  );
}

/** The voice as a line. Set through the style object, so that the page is not drawn again at every sound. */
function Level() {
  const house = useHouse();
  const bar = useRef<HTMLSpanElement>(null);
  useEffect(() => {
    const show = () => {
      const level = Math.max(0, Math.min(1, house.pulse.get().level));
      bar.current?.style.setProperty('--level', level.toFixed(3));
    };
    show();
    return house.pulse.subscribe(show);
  }, [house]);
  return <span className="level" ref={bar} aria-hidden="true" />;
}

/** Words so far; never counted, so shown as not yet firm. */
export function Partial() {
  const pulse = useLive(useHouse().pulse);
  return pulse.partial === '' ? null : <p className="partial">{pulse.partial} …</p>;
}
