import { Circumstance } from '#shared/circumstance';
import { capital } from '../parts/words.ts';
import { useText } from '../text/text.ts';
import type { Spot } from './Field.tsx';
import { namesOf } from './fields.ts';

/** When a check is required: always, when a sign demands it, or on any of some occasions. */
export function Required({ editing, path, fields }: Pick<Spot, 'editing' | 'path' | 'fields'>) {
  const t = useText();
  const value = fields['required'];
  const occasions = namesOf(value);
  const set = (next: unknown) =>
    editing.edit([{ do: 'set', path: [...path, 'required'], value: next }]);
  return (
    <fieldset>
      <legend>{t('shop-required')}</legend>
      <label className="field">
        <span>{t('shop-required-when')}</span>
        <select
          value={occasions.length > 0 ? 'some' : value === 'follow-up' ? 'follow-up' : 'always'}
          onChange={(e) => {
            const { value: chosen } = e.target;
            if (chosen === 'some') set([Circumstance.options[0]]);
            else set(chosen === 'follow-up' ? chosen : undefined);
          }}
        >
          <option value="always">{t('shop-required-always')}</option>
          <option value="follow-up">{t('shop-required-follow-up')}</option>
          <option value="some">{t('shop-required-some')}</option>
        </select>
      </label>
      {occasions.length > 0 && (
        <div className="ticks">
          {Circumstance.options.map((c) => (
            <label key={c} className="tick">
              <input
                type="checkbox"
                checked={occasions.includes(c)}
                onChange={(e) => {
                  const next = Circumstance.options.filter((o) =>
                    o === c ? e.target.checked : occasions.includes(o),
                  );
                  set(next.length === 0 ? undefined : next);
                }}
              />
              {capital(t(`circumstance-${c}`))}
            </label>
          ))}
        </div>
      )}
    </fieldset>
  );
}
