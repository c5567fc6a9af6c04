import { freeId, type Outline } from '#catalogue';
import { useText } from '../text/text.ts';
import { isFields, listOf, rowsAt, wordsOf, type Path } from './fields.ts';
import { SignForm } from './SignForm.tsx';
import type { Spot } from './Field.tsx';
import type { Editing } from './useEditing.ts';

/** Signs that may be found at a check, with what they demand. Signs of the whole catalogue are ticked by name. */
export function Signs({
  editing,
  path,
  fields,
  outline,
}: Pick<Spot, 'editing' | 'path' | 'fields'> & { readonly outline: Outline }) {
  const t = useText();
  const list = listOf(fields['signs']);
  const at = [...path, 'signs'];
  const shared = rowsAt(editing.text, ['signs']);
  return (
    <fieldset>
      <legend>{t('shop-signs')}</legend>
      {shared.length > 0 && (
        <div className="ticks">
          {shared.map((s) => {
            const id = wordsOf(s['id']);
            const here = list.indexOf(id);
            return (
              <label key={id} className="tick">
                <input
                  type="checkbox"
                  checked={here >= 0}
                  onChange={() =>
                    editing.edit([
                      here >= 0
                        ? { do: 'remove', list: at, at: here }
                        : { do: 'insert', list: at, at: list.length, value: id },
                    ])
                  }
                />
                {wordsOf(s['name'])}
              </label>
            );
          })}
        </div>
      )}
      {list.map((sign, i) =>
        isFields(sign) ? (
          <SignForm
            key={i}
            editing={editing}
            list={at}
            at={i}
            fields={sign}
            outline={outline}
            own={wordsOf(fields['id'])}
          />
        ) : null,
      )}
      <AddSign editing={editing} list={at} there={list} label={t('shop-sign-add')} />
    </fieldset>
  );
}

/** Signs that several checks name, or that may be told anywhere. */
export function SharedSigns({ editing, outline }: { editing: Editing; outline: Outline }) {
  const t = useText();
  const signs = rowsAt(editing.text, ['signs']);
  return (
    <fieldset>
      <legend>{t('shop-signs-shared')}</legend>
      <p className="small quiet">{t('shop-signs-shared-help')}</p>
      {signs.map((fields, i) => (
        <details key={i} className="more">
          <summary>{wordsOf(fields['name']) || t('shop-without-name')}</summary>
          <SignForm
            editing={editing}
            list={['signs']}
            at={i}
            fields={fields}
            outline={outline}
            own=""
          />
        </details>
      ))}
      <AddSign editing={editing} list={['signs']} there={signs} label={t('shop-sign-add-shared')} />
    </fieldset>
  );
}

function AddSign({
  editing,
  list,
  there,
  label,
}: {
  editing: Editing;
  list: Path;
  there: readonly unknown[];
  label: string;
}) {
  const t = useText();
  return (
    <button
      type="button"
      className="press plain"
      onClick={() => {
        const name = t('shop-sign-new');
        const taken = new Set([...rowsAt(editing.text, ['signs']), ...there].map(idOfSign));
        editing.edit([
          { do: 'insert', list, at: there.length, value: { id: freeId(name, taken), name } },
        ]);
      }}
    >
      {label}
    </button>
  );
}

function idOfSign(sign: unknown): string {
  return isFields(sign) ? wordsOf(sign['id']) : wordsOf(sign);
}
