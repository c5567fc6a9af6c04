import { fieldsAt, type Outline } from '#catalogue';
import { useText } from '../text/text.ts';
import { Several, Tick, Words } from './Field.tsx';
import type { Editing } from './useEditing.ts';

/** A station's own fields. Where it stands is moved on the plan. */
export function StationForm({
  outline,
  editing,
  at,
}: {
  outline: Outline;
  editing: Editing;
  at: number;
}) {
  const t = useText();
  const path = ['stations', at];
  const fields = fieldsAt(editing.text, path);
  if (fields === null) return null;
  const of = { editing, path, fields };
  return (
    <section className="form" aria-label={t('shop-station')}>
      <h2>{t('shop-station-number', { n: at + 1 })}</h2>
      <Words {...of} field="name" label={t('shop-station-name')} />
      <Several {...of} field="say" label={t('shop-say')} />
      <Words {...of} field="caution" label={t('shop-station-caution')} />
      <Tick {...of} field="inOrder" label={t('shop-station-in-order')} />
      <button
        type="button"
        className="press"
        disabled={outline.stations.length < 2}
        onClick={() => editing.edit([{ do: 'remove', list: ['stations'], at }])}
      >
        {t('shop-station-out')}
      </button>
    </section>
  );
}
