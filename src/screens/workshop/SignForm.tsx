import type { Outline } from '#catalogue';
import { useText } from '../text/text.ts';
import { Demands, Usually } from './Demands.tsx';
import { Several, Tick, Words } from './Field.tsx';
import { wordsOf, type Fields, type Path } from './fields.ts';
import type { Editing } from './useEditing.ts';

/** One sign: of a check alone, or of the whole catalogue. */
export function SignForm({
  editing,
  list,
  at,
  fields,
  outline,
  own,
}: {
  editing: Editing;
  list: Path;
  at: number;
  fields: Fields;
  outline: Outline;
  /** The check that it is a sign of; empty: of the whole catalogue. */
  own: string;
}) {
  const t = useText();
  const name = wordsOf(fields['name']);
  const of = { editing, path: [...list, at], fields };
  return (
    <div className="measure fields">
      <Words {...of} field="name" label={t('shop-sign')} />
      <Several
        {...of}
        field="conditions"
        label={t('shop-sign-conditions')}
        help={t('shop-conditions-help')}
      />
      <Usually {...of} name={name} otherwise={t('shop-usually-ask')} />
      <Words {...of} field="suggests" label={t('shop-suggests')} />
      <Demands {...of} name={name} outline={outline} own={own} />
      <Words {...of} field="caution" label={t('shop-sign-caution')} />
      <details className="more">
        <summary>{t('shop-more-of', { name })}</summary>
        <Several {...of} field="say" label={t('shop-say')} />
        <Words {...of} field="source" label={t('shop-source-check')} />
        <Words {...of} field="jasc" label={t('shop-jasc')} help={t('shop-jasc-help')} />
        <Tick {...of} field="anywhere" label={t('shop-anywhere')} help={t('shop-anywhere-help')} />
      </details>
      <button
        type="button"
        className="press"
        aria-label={t('shop-sign-out', { name })}
        onClick={() => editing.edit([{ do: 'remove', list, at }])}
      >
        {t('shop-take-out')}
      </button>
    </div>
  );
}
