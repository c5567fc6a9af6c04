import { listEdits, type Outline } from '#catalogue';
import { Severity } from '#shared/severity';
import { useText } from '../text/text.ts';
import type { Spot } from './Field.tsx';
import { namesOf, wordsOf } from './fields.ts';

type Of = Pick<Spot, 'editing' | 'path' | 'fields'> & { readonly name: string };

/** How bad it usually is. Left out, `otherwise` says what happens. */
export function Usually({ editing, path, fields, otherwise }: Of & { readonly otherwise: string }) {
  const t = useText();
  return (
    <label className="field">
      <span>{t('shop-usually')}</span>
      <select
        value={wordsOf(fields['severity'])}
        onChange={(e) =>
          editing.edit([
            { do: 'set', path: [...path, 'severity'], value: e.target.value || undefined },
          ])
        }
      >
        <option value="">{otherwise}</option>
        {Severity.options.map((s) => (
          <option key={s} value={s}>
            {t(`severity-${s}`)}
          </option>
        ))}
      </select>
    </label>
  );
}

/** Checks that become required when it is found. */
export function Demands({
  editing,
  path,
  fields,
  name,
  outline,
  own,
}: Of & { readonly outline: Outline; readonly own: string }) {
  const t = useText();
  const checks = outline.stations.flatMap((s) => s.checks).filter((c) => c.id !== own);
  const demands = namesOf(fields['followUps']);
  const named = (id: string) => checks.find((c) => c.id === id)?.name ?? id;
  return (
    <label className="field">
      <span>
        {demands.length === 0
          ? t('shop-demands')
          : t('shop-demands-these', { names: demands.map(named).join(', ') })}
      </span>
      <select
        value=""
        aria-label={t('shop-demands-label', { name })}
        onChange={(e) => {
          const id = e.target.value;
          const next = demands.includes(id) ? demands.filter((d) => d !== id) : [...demands, id];
          editing.edit(listEdits([...path, 'followUps'], demands, next));
        }}
      >
        <option value="">{t('shop-demands-choose')}</option>
        {checks.map((c) => (
          <option key={c.id} value={c.id}>
            {demands.includes(c.id) ? t('shop-demands-out', { name: c.name }) : c.name}
          </option>
        ))}
      </select>
    </label>
  );
}
