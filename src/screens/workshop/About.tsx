import { fieldsAt, type Outline } from '#catalogue';
import { capital } from '../parts/words.ts';
import { Field, wordsOf } from './Field.tsx';
import type { Editing } from './useEditing.ts';

const KINDS = ['aeroplane', 'helicopter', 'glider', 'gyroplane', 'other'];

/** What a catalogue says of itself. */
export function About({ outline, editing }: { outline: Outline; editing: Editing }) {
  const fields = fieldsAt(editing.text, []);
  if (fields === null) return null;
  const set = (field: string, value: unknown) =>
    editing.edit([{ do: 'set', path: [field], value: value === '' ? undefined : value }]);
  const cautions = Array.isArray(fields['cautions']) ? fields['cautions'].map(wordsOf) : [];
  return (
    <details className="about">
      <summary>About this catalogue</summary>
      <div className="form">
        <Field label="Its name" value={outline.name} set={(v) => set('name', v)} />
        <label className="field">
          <span>Kind: picks the plan</span>
          <select value={outline.kind} onChange={(e) => set('kind', e.target.value)}>
            {KINDS.map((k) => (
              <option key={k} value={k}>
                {capital(k)}
              </option>
            ))}
          </select>
        </label>
        <Field
          label="Its source: which checklist, of which date"
          value={wordsOf(fields['source'])}
          set={(v) => set('source', v)}
        />
        <Field
          label="Licence: on what terms it may be given away"
          value={wordsOf(fields['licence'])}
          set={(v) => set('licence', v)}
        />
        <Field
          label="Notice, shown on every sheet"
          value={wordsOf(fields['notice'])}
          set={(v) => set('notice', v)}
        />
        {[...cautions, ''].map((c, i) => (
          <Field
            key={i}
            label={
              i === cautions.length
                ? 'One more caution, read out before the walk'
                : `Caution ${i + 1}`
            }
            value={c}
            set={(v) => {
              const next = cautions
                .map((x, k) => (k === i ? v : x))
                .concat(i === cautions.length ? [v] : []);
              const kept = next.filter((x) => x.trim() !== '');
              set('cautions', kept.length === 0 ? undefined : kept);
            }}
          />
        ))}
        <label className="tick">
          <input
            type="checkbox"
            checked={fields['inOrder'] === true}
            onChange={(e) => set('inOrder', e.target.checked ? true : undefined)}
          />
          The stations are walked in this order
        </label>
      </div>
    </details>
  );
}
