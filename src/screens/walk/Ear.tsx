import { useEffect, useRef } from 'react';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import type { Listening } from '../services.ts';

const STATE_WORDS: Readonly<Record<Listening['state'], string>> = {
  starting: 'Starting',
  listening: 'Listening',
  speaking: 'Speaking',
  held: 'On hold',
  typed: 'Typing',
  deaf: 'Not hearing',
};

/**
 * Whether it hears, to be told from three metres: a full block of the course
 * colour while it listens, a hatched block on hold, an amber block when it
 * should hear and does not. The line under the word moves with the voice.
 */
export function Ear({ aircraft }: { aircraft: string }) {
  const house = useHouse();
  const now = useLive(house.listening);
  return (
    <header className={`ear is-${now.state}`}>
      <p className="ear-word" role="status">
        {STATE_WORDS[now.state]}
      </p>
      <p className="ear-note small">{noteOf(now, aircraft)}</p>
      <Level />
    </header>
  );
}

function noteOf(now: Listening, aircraft: string): string {
  switch (now.state) {
    case 'starting':
      return 'Loading the recogniser; nothing is heard yet.';
    case 'listening':
      return now.sentAway ? `${aircraft}. The sound leaves this device.` : aircraft;
    case 'speaking':
      return 'It does not listen to itself.';
    case 'held':
      return 'Only faults are kept until you say “resume” or press it.';
    case 'typed':
      return `${aircraft}. Words come from the keyboard.`;
    case 'deaf':
      return now.why;
  }
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
