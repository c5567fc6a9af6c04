import type { Circumstance } from '#shared/circumstance';
import { Drawing } from '../plan/Drawing.tsx';
import { Mark } from '../parts/Mark.tsx';
import { useText } from '../text/text.ts';
import { checksToday, type Row } from './rows.ts';

/** The aircraft to choose from: known ones by registration, and the kinds that were never walked. */
export function Aircraft({
  known,
  kinds,
  picked,
  today,
  pick,
}: {
  known: readonly Row[];
  kinds: readonly Row[];
  picked: string;
  today: ReadonlySet<Circumstance>;
  pick: (key: string) => void;
}) {
  const t = useText();
  const craft = (rows: readonly Row[]) => (
    <div className="aircraft">
      {rows.map((r) => (
        <Craft key={r.key} row={r} picked={r.key === picked} today={today} pick={pick} />
      ))}
    </div>
  );
  return (
    <fieldset>
      <legend>
        <h1>{t('begin-which')}</h1>
      </legend>
      {known.length > 0 && craft(known)}
      {known.length === 0 ? (
        craft(kinds)
      ) : (
        <details className="kinds" open={kinds.some((r) => r.key === picked)}>
          <summary>{t('begin-new')}</summary>
          {craft(kinds)}
        </details>
      )}
    </fieldset>
  );
}

function Craft({
  row: r,
  picked,
  today,
  pick,
}: {
  row: Row;
  picked: boolean;
  today: ReadonlySet<Circumstance>;
  pick: (key: string) => void;
}) {
  const t = useText();
  const checks = t('checks', { n: checksToday(r, today) });
  const { name } = r.catalogue;
  // An aircraft that was given no registration is called as its catalogue: named once.
  const told =
    r.known && r.aircraft !== name
      ? t('begin-catalogue-asked', { catalogue: name, checks })
      : t('begin-asked', { checks, stations: t('stations', { n: r.catalogue.stations }) });
  return (
    <label className="craft">
      <input
        type="radio"
        name="aircraft"
        value={r.key}
        checked={picked}
        onChange={() => pick(r.key)}
      />
      <svg viewBox="0 0 100 100" className="plan" aria-hidden="true">
        <Drawing kind={r.catalogue.kind} />
      </svg>
      <span>
        <strong>{r.known ? r.aircraft : name}</strong>
        <span className="quiet small">{told}</span>
        {r.squawks.length > 0 && (
          <span className="small squawked">
            <Mark of="finding" label="" />
            {t('open-squawks', { n: r.squawks.length })}
          </span>
        )}
      </span>
    </label>
  );
}
