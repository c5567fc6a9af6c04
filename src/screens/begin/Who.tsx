import { useHouse } from '../parts/house.ts';
import { never, useLive } from '../parts/live.ts';
import { useChooseEar } from '../settings/chooseEar.tsx';
import type { EarKind, SchoolView } from '../services.ts';
import { useText } from '../text/text.ts';

interface People {
  readonly pilot: string;
  readonly instructor: string;
  readonly hours: string;
}

const EARS: readonly EarKind[] = ['embedded', 'browser', 'typed'];

/** What may be said about this walk and need not be: folded away. */
export function Who({
  who,
  set,
  hours,
}: {
  who: People;
  set: (who: People) => void;
  hours: number | null;
}) {
  const house = useHouse();
  const settings = useLive(house.settings);
  const pilots = useLive<SchoolView | null>(house.school?.view ?? never)?.hello?.pilots ?? [];
  const { choose, asked } = useChooseEar();
  const t = useText();
  return (
    <details className="who">
      <summary>
        {t('begin-who', {
          pilot: who.pilot === '' ? t('begin-no-name') : who.pilot,
          ear: t(`ear-${settings.ear}`),
        })}
      </summary>
      <div className="fields">
        <label className="field">
          <span>{t('begin-pilot')}</span>
          <input
            value={who.pilot}
            autoComplete="name"
            list="people-of-the-school"
            onChange={(e) => set({ ...who, pilot: e.target.value })}
          />
        </label>
        <label className="field">
          <span>{t('begin-instructor')}</span>
          <input
            value={who.instructor}
            autoComplete="off"
            list="people-of-the-school"
            onChange={(e) => set({ ...who, instructor: e.target.value })}
          />
        </label>
        <label className="field">
          <span>{t('begin-hours')}</span>
          <input
            value={who.hours}
            inputMode="decimal"
            placeholder={hours === null ? '' : String(hours)}
            onChange={(e) => set({ ...who, hours: e.target.value })}
          />
        </label>
        <label className="field">
          <span>{t('begin-words-from')}</span>
          <select
            value={settings.ear}
            onChange={(e) => {
              const ear = EARS.find((x) => x === e.target.value);
              if (ear !== undefined) choose(ear);
            }}
          >
            {EARS.map((e) => (
              <option key={e} value={e}>
                {t(`ear-${e}`)}
              </option>
            ))}
          </select>
        </label>
      </div>
      {pilots.length > 0 && (
        <datalist id="people-of-the-school">
          {pilots.map((name) => (
            <option key={name} value={name} />
          ))}
        </datalist>
      )}
      {asked}
    </details>
  );
}
