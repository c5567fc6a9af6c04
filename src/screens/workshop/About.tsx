import { fieldsAt, listEdits, type Outline } from '#catalogue';
import { useText } from '../text/text.ts';
import { Field, Tick, Words } from './Field.tsx';
import { listOf, wordsOf } from './fields.ts';
import { Gauges } from './Gauges.tsx';
import { SharedSigns } from './Signs.tsx';
import type { Editing } from './useEditing.ts';

const KINDS = ['aeroplane', 'helicopter', 'glider', 'gyroplane', 'other'];

/** What a catalogue says of itself, and what belongs to all of it. */
export function About({ outline, editing }: { outline: Outline; editing: Editing }) {
  const t = useText();
  const fields = fieldsAt(editing.text, []);
  if (fields === null) return null;
  const of = { editing, path: [], fields };
  const cautions = listOf(fields['cautions']).map(wordsOf);
  return (
    <details className="about">
      <summary>{t('shop-about')}</summary>
      <div className="form">
        <Words {...of} field="name" label={t('shop-about-name')} />
        <label className="field">
          <span>{t('shop-about-kind')}</span>
          <select
            value={outline.kind}
            onChange={(e) => editing.edit([{ do: 'set', path: ['kind'], value: e.target.value }])}
          >
            {KINDS.map((k) => (
              <option key={k} value={k}>
                {t(`shop-kind-${k}`)}
              </option>
            ))}
          </select>
        </label>
        <Words {...of} field="source" label={t('shop-about-source')} />
        <Words {...of} field="licence" label={t('shop-about-licence')} />
        <Words {...of} field="notice" label={t('shop-about-notice')} />
        {[...cautions, ''].map((c, i) => (
          <Field
            key={i}
            label={
              i === cautions.length
                ? t('shop-about-caution-more')
                : t('shop-about-caution', { n: i + 1 })
            }
            value={c}
            set={(v) => {
              const next = [...cautions.slice(0, i), v, ...cautions.slice(i + 1)];
              const kept = next.filter((x) => x.trim() !== '');
              editing.edit(listEdits(['cautions'], cautions, kept));
            }}
          />
        ))}
        <Tick {...of} field="inOrder" label={t('shop-about-in-order')} />
        <Gauges editing={editing} />
        <SharedSigns editing={editing} outline={outline} />
      </div>
    </details>
  );
}
