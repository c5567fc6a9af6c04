import { useState } from 'react';
import { useHouse } from '../parts/house.ts';
import { never, useLive } from '../parts/live.ts';

/** Room and storage in plain sentences, the worst alone until the next is asked for. Beginning puts them away. */
export function Warnings({ warnings }: { warnings: readonly string[] }) {
  const [at, setAt] = useState(0);
  const place = Math.min(at, warnings.length - 1);
  const sentence = warnings[place];
  if (sentence === undefined) return null;
  return (
    <section className="told-before" aria-label="Room and storage">
      <p role="status">{sentence}</p>
      {warnings.length > 1 && (
        <button
          type="button"
          className="press"
          onClick={() => setAt((place + 1) % warnings.length)}
        >
          Next, {place + 1} of {warnings.length}
        </button>
      )}
    </section>
  );
}

/** A new version that waits. Never shown while a walk is in progress. */
export function NewVersion() {
  const house = useHouse();
  const update = useLive(house.updates ?? never);
  const walking = useLive(house.walk) !== null;
  if (update === null || walking) return null;
  return (
    <section className="told-before" aria-label="New version">
      <p>{update.sentence}</p>
      <button type="button" className="press" onClick={() => update.apply()}>
        Load the new version
      </button>
    </section>
  );
}

/** No copy for use without a network: said before the walk, since on the ramp it is too late. */
export function NoCopy() {
  const house = useHouse();
  const uncopied = useLive(house.uncopied ?? never);
  if (uncopied === null) return null;
  return (
    <section className="told-before" aria-label="Without a network">
      <p role="status">{uncopied.sentence}</p>
      {uncopied.help !== null && (
        <a className="press" href={uncopied.help}>
          What to do about it
        </a>
      )}
    </section>
  );
}
