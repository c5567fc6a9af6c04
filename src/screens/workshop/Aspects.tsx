import { useText } from '../text/text.ts';
import { Field, Several, type Spot } from './Field.tsx';
import { isFields, listed, listOf, namesOf, wordsOf, type Fields, type Path } from './fields.ts';
import type { Editing } from './useEditing.ts';

type Place = Pick<Spot, 'editing' | 'path' | 'fields'>;

/** What has to be spoken for by itself, and other words for each: its names, and conditions that speak about it. */
export function Aspects({ editing, path, fields }: Place) {
  const t = useText();
  const aspects = listOf(fields['aspects']);
  return (
    <>
      <Several
        editing={editing}
        path={path}
        fields={fields}
        field="aspects"
        label={t('shop-aspects')}
        help={t('shop-aspects-help')}
      />
      {aspects.length > 0 && (
        <details className="more">
          <summary>{t('shop-aspects-more')}</summary>
          {aspects.map((aspect, i) => (
            <Aspect key={i} editing={editing} path={[...path, 'aspects', i]} aspect={aspect} />
          ))}
        </details>
      )}
    </>
  );
}

/** An entry that is a word, or a thing with a name: with nothing else to say of it, it is a word again. */
export function Aspect({
  editing,
  path,
  aspect,
  only,
}: {
  editing: Editing;
  path: Path;
  aspect: unknown;
  /** A step of a gauge has other names and nothing else. */
  only?: 'say';
}) {
  const t = useText();
  const fields: Fields = isFields(aspect) ? aspect : { name: aspect };
  const name = wordsOf(fields['name']);
  const set = (field: string, words: readonly string[]) => {
    if (isFields(aspect) && words.length > 0) {
      editing.edit([{ do: 'set', path: [...path, field], value: words }]);
      return;
    }
    const rest = Object.entries(fields).filter(([key]) => key !== field);
    const next = Object.fromEntries(words.length === 0 ? rest : [...rest, [field, words]]);
    const bare = Object.keys(next).every((key) => key === 'name');
    editing.edit([{ do: 'set', path, value: bare ? name : next }]);
  };
  return (
    <div className="fields">
      <Field
        label={t('shop-aspect-say', { name })}
        value={namesOf(fields['say']).join(', ')}
        set={(v) => set('say', listed(v))}
      />
      {only === undefined && (
        <Field
          label={t('shop-aspect-conditions', { name })}
          value={namesOf(fields['conditions']).join(', ')}
          help={t('shop-conditions-help')}
          set={(v) => set('conditions', listed(v))}
        />
      )}
    </div>
  );
}
