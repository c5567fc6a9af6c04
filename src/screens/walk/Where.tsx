import { Plan } from '../plan/Plan.tsx';
import { byStation, countOf, namesOf } from '../parts/words.ts';
import type { WalkView } from '../services.ts';
import { useText } from '../text/text.ts';

/** The station, how much of it is said, and the aircraft small; a touch lists them all. */
export function Where({ walk, open }: { walk: WalkView; open: () => void }) {
  const t = useText();
  const station =
    walk.station === null ? undefined : namesOf(walk.catalogue).station.get(walk.station);
  const place = walk.catalogue.stations.findIndex((s) => s.id === walk.station);
  const count = countOf(byStation(walk.coverage).get(walk.station ?? '') ?? []);
  const whole = countOf(walk.coverage.checks);
  return (
    <>
      <div className="where">
        <h1>
          <button type="button" onClick={open} aria-haspopup="dialog">
            <span>
              {station === undefined
                ? t('where')
                : t('where-at', { number: place + 1, station: station.name })}
              <span className="where-count">
                {station !== undefined &&
                  `${t('where-count', { done: count.required - count.open, required: count.required })} · `}
                {t('where-count-all', {
                  done: whole.required - whole.open,
                  required: whole.required,
                })}
              </span>
            </span>
            <span className="where-plan" aria-hidden="true">
              <Plan
                catalogue={walk.catalogue}
                coverage={walk.coverage}
                here={walk.station}
                compact
              />
            </span>
          </button>
        </h1>
      </div>
      {station?.caution !== undefined && station.caution !== walk.trouble && (
        <p className="cautions one-line">{station.caution}</p>
      )}
    </>
  );
}
