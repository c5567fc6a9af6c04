import { fieldsAt, type Outline } from '#catalogue';
import { Field, listed, namesOf, wordsOf } from './Field.tsx';
import type { Editing } from './useEditing.ts';

/** A station's own fields. */
export function StationForm({
  outline,
  editing,
  at,
}: {
  outline: Outline;
  editing: Editing;
  at: number;
}) {
  const path = ['stations', at];
  const fields = fieldsAt(editing.text, path);
  if (fields === null) return null;
  const set = (field: string, value: unknown) =>
    editing.edit([{ do: 'set', path: [...path, field], value: value === '' ? undefined : value }]);
  return (
    <section className="form" aria-label="Station">
      <h2>Station {at + 1}</h2>
      <Field
        label="Name of the station"
        value={wordsOf(fields['name'])}
        set={(v) => set('name', v)}
      />
      <Field
        label="Other names, with commas between"
        value={namesOf(fields['say']).join(', ')}
        set={(v) => set('say', listed(v))}
      />
      <Field
        label="Caution, read out on arrival"
        value={wordsOf(fields['caution'])}
        set={(v) => set('caution', v)}
      />
      <label className="tick">
        <input
          type="checkbox"
          checked={fields['inOrder'] === true}
          onChange={(e) => set('inOrder', e.target.checked ? true : undefined)}
        />
        Its checks are done in this order
      </label>
      <button
        type="button"
        className="press"
        disabled={outline.stations.length < 2}
        onClick={() => editing.edit([{ do: 'remove', list: ['stations'], at }])}
      >
        Take the station out
      </button>
    </section>
  );
}
