import { freeId } from '#catalogue';
import { useText } from '../text/text.ts';
import { Aspect } from './Aspects.tsx';
import { Several, Words } from './Field.tsx';
import { listOf, rowsAt, wordsOf } from './fields.ts';
import type { Editing } from './useEditing.ts';

/** Scales said in words, lowest step first: a value is measured on them instead of in a unit. */
export function Gauges({ editing }: { editing: Editing }) {
  const t = useText();
  const gauges = rowsAt(editing.text, ['gauges']);
  return (
    <fieldset>
      <legend>{t('shop-gauges')}</legend>
      <p className="small quiet">{t('shop-gauges-help')}</p>
      {gauges.map((fields, i) => {
        const of = { editing, path: ['gauges', i], fields };
        const name = wordsOf(fields['name']);
        return (
          <div key={i} className="measure gauge">
            <Words {...of} field="name" label={t('shop-gauge')} />
            <Several {...of} field="steps" label={t('shop-gauge-steps', { name })} />
            <details className="more">
              <summary>{t('shop-more-of', { name })}</summary>
              {listOf(fields['steps']).map((step, k) => (
                <Aspect
                  key={k}
                  editing={editing}
                  path={[...of.path, 'steps', k]}
                  aspect={step}
                  only="say"
                />
              ))}
            </details>
            <button
              type="button"
              className="press"
              aria-label={t('shop-gauge-out', { name })}
              onClick={() => editing.edit([{ do: 'remove', list: ['gauges'], at: i }])}
            >
              {t('shop-take-out')}
            </button>
          </div>
        );
      })}
      <button
        type="button"
        className="press plain"
        onClick={() => {
          const name = t('shop-gauge-new');
          const id = freeId(name, new Set(gauges.map((g) => wordsOf(g['id']))));
          const steps = [t('shop-gauge-low'), t('shop-gauge-high')];
          editing.edit([
            { do: 'insert', list: ['gauges'], at: gauges.length, value: { id, name, steps } },
          ]);
        }}
      >
        {t('shop-gauge-add')}
      </button>
    </fieldset>
  );
}
