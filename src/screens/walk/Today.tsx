import type { Circumstance } from '#shared/circumstance';
import { useHouse } from '../parts/house.ts';
import { useTell } from '../parts/Tell.tsx';
import { capital } from '../parts/words.ts';
import type { WalkView } from '../services.ts';
import { useText } from '../text/text.ts';

/** What about today asks for more checks: the same as saying "it is night". Folded, since it seldom changes on the way. */
export function Today({ walk }: { walk: WalkView }) {
  const house = useHouse();
  const { tell } = useTell();
  const t = useText();
  const asked = new Set(
    walk.catalogue.stations
      .flatMap((s) => s.checks)
      .flatMap((c): readonly Circumstance[] => (Array.isArray(c.required) ? c.required : [])),
  );
  if (asked.size === 0) return null;
  const now = walk.coverage.circumstances;
  return (
    <details className="today-now">
      <summary>
        {t('today-is', {
          what: now.map((c) => t(`circumstance-${c}`)).join(', ') || t('today-nothing'),
        })}
      </summary>
      {[...asked].map((c) => (
        <label key={c} className="tick">
          <input
            type="checkbox"
            checked={now.includes(c)}
            onChange={(e) => void house.setCircumstance(c, e.target.checked).then(tell)}
          />
          {capital(t(`circumstance-${c}`))}
        </label>
      ))}
    </details>
  );
}
