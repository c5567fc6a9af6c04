import { useState } from 'react';
import { STANDING_WORDS } from '#shared/coverage';
import type { ReadBy } from '#shared/event';
import { useHouse } from '../parts/house.ts';
import { useTell } from '../parts/Tell.tsx';
import { capital, findingTitle, findingWhat, namesOf } from '../parts/words.ts';
import type { SecondReading, Stood, WalkRecord } from '../services.ts';

/**
 * The words of a walk read once more by today's reader: offered, shown as a
 * difference, and kept nowhere. What was recorded stays as it was (R6).
 */
export function ReadAgain({ record }: { record: WalkRecord }) {
  const house = useHouse();
  const { tell } = useTell();
  const [again, setAgain] = useState<SecondReading | null>(null);
  const [busy, setBusy] = useState(false);
  const readAgain = house.readAgain;
  if (readAgain === undefined) return null;
  const read = async () => {
    setBusy(true);
    const outcome = await readAgain(record.id);
    setBusy(false);
    if (tell(outcome) && outcome.ok) setAgain(outcome.value);
  };
  return (
    <section className="noprint" aria-labelledby="again">
      <h2 id="again">A second reading</h2>
      {again === null ? (
        <>
          <p className="quiet">
            Today’s reader may understand these words otherwise. The walk stays as it was recorded;
            the difference is shown, and kept nowhere.
          </p>
          <div className="tools">
            <button type="button" className="press" disabled={busy} onClick={() => void read()}>
              {busy ? 'Reading …' : 'Read its words again'}
            </button>
          </div>
        </>
      ) : (
        <Difference again={again} record={record} />
      )}
    </section>
  );
}

function Difference({ again, record }: { again: SecondReading; record: WalkRecord }) {
  const names = namesOf(record.catalogue);
  const { checks, lost, fresh, was, now } = again;
  const none = checks.length + lost.length + fresh.length === 0;
  return (
    <div role="status">
      <p className="quiet">
        Recorded by {readerName(was)}; read now by {readerName(now)}.
      </p>
      {none && <p>Both read these words alike.</p>}
      {checks.length > 0 && (
        <ul className="lines">
          {checks.map((c) => (
            <li key={c.check}>
              <strong>{capital(names.check.get(c.check)?.name ?? c.check)}</strong>: recorded as{' '}
              {stoodWords(c.was)}; would be {stoodWords(c.now)}
            </li>
          ))}
        </ul>
      )}
      {[
        { title: 'Findings of the record that would not be made', list: lost },
        { title: 'Findings that are not in the record', list: fresh },
      ].map(({ title, list }) =>
        list.length === 0 ? null : (
          <div key={title}>
            <h3>{title}</h3>
            <ul className="lines">
              {list.map((f) => (
                <li key={f.id}>
                  {findingTitle(f, names)}: {findingWhat(f)}{' '}
                  <span className="words">{f.words}</span>
                </li>
              ))}
            </ul>
          </div>
        ),
      )}
    </div>
  );
}

function stoodWords({ standing, told }: Stood): string {
  return [STANDING_WORDS[standing], ...told].join(', ');
}

function readerName(by: ReadBy | null): string {
  if (by === null) return 'a reader that is not on the record';
  const hash = by.weights === null ? '' : ` (scores ${by.weights.slice(0, 8)})`;
  return by.version === null ? 'the reader without scores' : `reader ${by.version}${hash}`;
}
