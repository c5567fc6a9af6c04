import { useText } from '../text/text.ts';
import { Field, type Spot } from './Field.tsx';
import { listed } from './fields.ts';
import { repeatOf, written, type Repeat } from './repeat.ts';

/** Where a check is made: a number or names, on each of some sides, and whether the plural speaks for all of them. */
export function Places({ editing, path, fields }: Pick<Spot, 'editing' | 'path' | 'fields'>) {
  const t = useText();
  const repeat = repeatOf(fields['repeat']);
  const set = (change: Partial<Repeat>) =>
    editing.edit([
      { do: 'set', path: [...path, 'repeat'], value: written({ ...repeat, ...change }) },
    ]);
  return (
    <>
      <Field label={t('shop-places')} value={repeat.of} set={(of) => set({ of })} />
      {repeat.of !== '' && (
        <>
          <Field
            label={t('shop-places-sides')}
            value={repeat.sides.join(', ')}
            help={t('shop-places-sides-help')}
            set={(v) => set({ sides: listed(v) })}
          />
          <label className="tick">
            <input
              type="checkbox"
              checked={repeat.plural}
              onChange={(e) => set({ plural: e.target.checked })}
            />
            <span>
              {t('shop-places-plural')}{' '}
              <span className="small quiet">{t('shop-places-plural-help')}</span>
            </span>
          </label>
        </>
      )}
    </>
  );
}
