import { useState } from 'react';
import { freeId, type Outline } from '#catalogue';
import { useText } from '../text/text.ts';
import { Demands, Usually } from './Demands.tsx';
import { Field, Several, Words, type Spot } from './Field.tsx';
import { namesOf, numberOf, rowsAt, wordsOf, type Fields, type Path } from './fields.ts';
import type { Editing } from './useEditing.ts';

/** Units that checklists use: UCUM code and message. Others are written by their code. */
const UNITS: readonly (readonly [code: string, message: string])[] = [
  ['[qt_us]', 'shop-unit-quarts'],
  ['[gal_us]', 'shop-unit-gallons'],
  ['L', 'shop-unit-litres'],
  ['[psi]', 'shop-unit-psi'],
  ['bar', 'shop-unit-bar'],
  ['[in_i]', 'shop-unit-inches'],
  ['mm', 'shop-unit-mm'],
  ['cm', 'shop-unit-cm'],
  ['V', 'shop-unit-volts'],
  ['Cel', 'shop-unit-celsius'],
  ['[degF]', 'shop-unit-fahrenheit'],
  ['kg', 'shop-unit-kg'],
  ['[lb_av]', 'shop-unit-pounds'],
  ['%', 'shop-unit-percent'],
];
/** Chosen to write a code that is not among them. */
const OTHER = 'other';

/** What is measured at a check, in a unit between limits or on a gauge of the catalogue. */
export function Measures({
  editing,
  path,
  outline,
  own,
}: {
  editing: Editing;
  path: Path;
  outline: Outline;
  /** The check's id. */
  own: string;
}) {
  const t = useText();
  const rows = rowsAt(editing.text, path);
  const gauges = rowsAt(editing.text, ['gauges']);
  return (
    <fieldset>
      <legend>{t('shop-measures')}</legend>
      {rows.map((fields, i) => (
        <MeasureForm
          key={i}
          editing={editing}
          path={[...path, i]}
          fields={fields}
          gauges={gauges}
          outline={outline}
          own={own}
          takeOut={() => editing.edit([{ do: 'remove', list: path, at: i }])}
        />
      ))}
      <button
        type="button"
        className="press plain"
        onClick={() => {
          const name = t('shop-measure-new');
          const taken = new Set(rows.map((r) => wordsOf(r['id'])));
          const value = { id: freeId(name, taken), name, unit: 'L' };
          editing.edit([{ do: 'insert', list: path, at: rows.length, value }]);
        }}
      >
        {t('shop-measure-add')}
      </button>
    </fieldset>
  );
}

function MeasureForm({
  gauges,
  outline,
  own,
  takeOut,
  ...of
}: Pick<Spot, 'editing' | 'path' | 'fields'> & {
  gauges: readonly Fields[];
  outline: Outline;
  own: string;
  takeOut: () => void;
}) {
  const t = useText();
  const [other, setOther] = useState(false);
  const { editing, path, fields } = of;
  const name = wordsOf(fields['name']);
  const gauge = gauges.find((g) => g['id'] === fields['gauge']);
  const unit = wordsOf(fields['unit']);
  const known = UNITS.some(([code]) => code === unit);
  const byCode = gauge === undefined && (other || (unit !== '' && !known));
  const set = (field: string, value: unknown) =>
    editing.edit([{ do: 'set', path: [...path, field], value: value === '' ? undefined : value }]);
  const limit = (field: 'low' | 'high', label: string) => (
    <Field label={label} value={wordsOf(fields[field])} set={(v) => set(field, numberOf(v))} />
  );
  const step = (field: 'atLeast' | 'atMost', label: string) => (
    <label className="field">
      <span>{label}</span>
      <select value={wordsOf(fields[field])} onChange={(e) => set(field, e.target.value)}>
        <option value="">{t('shop-no-limit')}</option>
        {namesOf(gauge?.['steps']).map((s) => (
          <option key={s}>{s}</option>
        ))}
      </select>
    </label>
  );
  return (
    <div className="measure fields">
      <Words {...of} field="name" label={t('shop-measure')} />
      <label className="field">
        <span>{t('shop-unit')}</span>
        <select
          value={gauge === undefined ? (byCode ? OTHER : unit) : `gauge:${wordsOf(gauge['id'])}`}
          onChange={(e) => {
            setOther(e.target.value === OTHER);
            if (e.target.value !== OTHER) editing.edit(inUnit(path, e.target.value));
          }}
        >
          {gauge === undefined && unit === '' && <option value="">{t('shop-no-unit')}</option>}
          {UNITS.map(([code, message]) => (
            <option key={code} value={code}>
              {t(message)}
            </option>
          ))}
          {gauges.map((g) => (
            <option key={wordsOf(g['id'])} value={`gauge:${wordsOf(g['id'])}`}>
              {wordsOf(g['name'])}
            </option>
          ))}
          <option value={OTHER}>{t('shop-unit-other')}</option>
        </select>
      </label>
      {byCode && (
        <Field
          label={t('shop-unit-code')}
          value={unit}
          help={t('shop-unit-code-help')}
          set={(v) => editing.edit(inUnit(path, v.trim()))}
        />
      )}
      {gauge === undefined ? limit('low', t('shop-low')) : step('atLeast', t('shop-low'))}
      {gauge === undefined ? limit('high', t('shop-high')) : step('atMost', t('shop-high'))}
      <details className="more">
        <summary>{t('shop-more-of', { name })}</summary>
        <Usually {...of} name={name} otherwise={t('shop-usually-ground')} />
        <Words {...of} field="suggests" label={t('shop-suggests')} />
        <Demands {...of} name={name} outline={outline} own={own} />
        <Several {...of} field="say" label={t('shop-say')} />
        <Words {...of} field="source" label={t('shop-source-check')} />
      </details>
      <button
        type="button"
        className="press"
        aria-label={t('shop-measure-out', { name })}
        onClick={takeOut}
      >
        {t('shop-take-out')}
      </button>
    </div>
  );
}

/** A value is in a unit or on a gauge; the limits of the one mean nothing in the other. */
function inUnit(path: Path, chosen: string) {
  const gauge = chosen.startsWith('gauge:') ? chosen.slice('gauge:'.length) : undefined;
  const without = gauge === undefined ? ['gauge', 'atLeast', 'atMost'] : ['unit', 'low', 'high'];
  return [
    ...without.map((field) => ({ do: 'set' as const, path: [...path, field], value: undefined })),
    {
      do: 'set' as const,
      path: [...path, gauge === undefined ? 'unit' : 'gauge'],
      value: gauge ?? (chosen || undefined),
    },
  ];
}
