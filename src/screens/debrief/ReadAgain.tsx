import { useState } from 'react';
import type { ReadBy } from '#shared/event';
import { useHouse } from '../parts/house.ts';
import { useTell } from '../parts/Tell.tsx';
import { Woven } from '../parts/Woven.tsx';
import { capital, findingTitle, findingWhat, namesOf } from '../parts/words.ts';
import type { SecondReading, Stood, WalkRecord } from '../services.ts';
import { useText, type Text } from '../text/text.ts';

/**
 * The words of a walk read once more by today's reader: offered, shown as a
 * difference, and kept nowhere. What was recorded stays as it was (R6).
 */
export function ReadAgain({ record }: { record: WalkRecord }) {
  const house = useHouse();
  const { tell } = useTell();
  const t = useText();
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
      <h2 id="again">{t('again-title')}</h2>
      {again === null ? (
        <>
          <p className="quiet">{t('again-what')}</p>
          <div className="tools">
            <button type="button" className="press" disabled={busy} onClick={() => void read()}>
              {t(busy ? 'again-reading' : 'again-read')}
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
  const t = useText();
  const names = namesOf(record.catalogue);
  const { checks, lost, fresh, was, now } = again;
  const none = checks.length + lost.length + fresh.length === 0;
  return (
    <div role="status">
      <p className="quiet">
        {t('again-readers', { was: readerName(was, t), now: readerName(now, t) })}
      </p>
      {none && <p>{t('again-alike')}</p>}
      {checks.length > 0 && (
        <ul className="lines">
          {checks.map((c) => (
            <li key={c.check}>
              <Woven
                id="again-check"
                values={{ was: stoodWords(c.was, t), now: stoodWords(c.now, t) }}
                of={{
                  check: <strong>{capital(names.check.get(c.check)?.name ?? c.check)}</strong>,
                }}
              />
            </li>
          ))}
        </ul>
      )}
      {[
        { title: t('again-lost'), list: lost },
        { title: t('again-fresh'), list: fresh },
      ].map(({ title, list }) =>
        list.length === 0 ? null : (
          <div key={title}>
            <h3>{title}</h3>
            <ul className="lines">
              {list.map((f) => (
                <li key={f.id}>
                  {findingTitle(f, names, t)}: {findingWhat(f)}{' '}
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

function stoodWords({ standing, told }: Stood, t: Text): string {
  return [t(`standing-${standing}`), ...told].join(', ');
}

function readerName(by: ReadBy | null, t: Text): string {
  if (by === null) return t('again-unknown');
  if (by.version === null) return t('again-without');
  const reader = t('again-reader', { version: String(by.version) });
  return by.weights === null ? reader : t('again-scored', { reader, hash: by.weights.slice(0, 8) });
}
