import { fieldsAt, freeId, outlineOf } from '#catalogue';
import { Field, wordsOf } from './Field.tsx';
import type { Editing } from './useEditing.ts';

type Path = readonly (string | number)[];

/** Units that checklists use, by their UCUM code. Others are written in the file. */
const UNITS: readonly (readonly [string, string])[] = [
  ['[qt_us]', 'quarts'],
  ['[gal_us]', 'gallons'],
  ['L', 'litres'],
  ['[psi]', 'psi'],
  ['bar', 'bar'],
  ['[in_i]', 'inches'],
  ['mm', 'mm'],
  ['cm', 'cm'],
  ['V', 'volts'],
  ['Cel', '°C'],
  ['[degF]', '°F'],
  ['kg', 'kg'],
  ['[lb_av]', 'pounds'],
  ['%', 'percent'],
];

/** What is measured at a check, in a unit between limits or on a gauge of the catalogue. */
export function Measures({ editing, path }: { editing: Editing; path: Path }) {
  const count = countAt(editing.text, path);
  const gauges = gaugesIn(editing.text);
  return (
    <fieldset>
      <legend>What is measured</legend>
      {Array.from({ length: count }, (_, i) => (
        <Measure key={i} editing={editing} path={[...path, i]} list={path} at={i} gauges={gauges} />
      ))}
      <button
        type="button"
        className="press plain"
        onClick={() => {
          const taken = new Set(
            Array.from({ length: count }, (_, i) =>
              wordsOf(fieldsAt(editing.text, [...path, i])?.['id']),
            ),
          );
          const value = { id: freeId('quantity', taken), name: 'quantity', unit: 'L' };
          editing.edit([{ do: 'insert', list: path, at: count, value }]);
        }}
      >
        Add a value
      </button>
    </fieldset>
  );
}

function Measure({
  editing,
  path,
  list,
  at,
  gauges,
}: {
  editing: Editing;
  path: Path;
  list: Path;
  at: number;
  gauges: readonly { id: string; name: string; steps: readonly string[] }[];
}) {
  const fields = fieldsAt(editing.text, path);
  if (fields === null) return null;
  const set = (field: string, value: unknown) =>
    editing.edit([{ do: 'set', path: [...path, field], value: value === '' ? undefined : value }]);
  const gauge = gauges.find((g) => g.id === fields['gauge']);
  const unit = wordsOf(fields['unit']);
  const limit = (field: 'low' | 'high', label: string) => (
    <Field label={label} value={wordsOf(fields[field])} set={(v) => set(field, numberOf(v))} />
  );
  return (
    <div className="measure fields">
      <Field label="What" value={wordsOf(fields['name'])} set={(v) => set('name', v)} />
      <label className="field">
        <span>In</span>
        <select
          value={gauge === undefined ? unit : `gauge:${gauge.id}`}
          onChange={(e) => editing.edit(inUnit(path, e.target.value))}
        >
          {!UNITS.some(([code]) => code === unit) && (
            <option value={unit}>{unit || 'no unit'}</option>
          )}
          {UNITS.map(([code, words]) => (
            <option key={code} value={code}>
              {words}
            </option>
          ))}
          {gauges.map((g) => (
            <option key={g.id} value={`gauge:${g.id}`}>
              {g.name}
            </option>
          ))}
        </select>
      </label>
      {gauge === undefined ? (
        <>
          {limit('low', 'At least')}
          {limit('high', 'At most')}
        </>
      ) : (
        (['atLeast', 'atMost'] as const).map((field) => (
          <label key={field} className="field">
            <span>{field === 'atLeast' ? 'At least' : 'At most'}</span>
            <select value={wordsOf(fields[field])} onChange={(e) => set(field, e.target.value)}>
              <option value="">no limit</option>
              {gauge.steps.map((s) => (
                <option key={s}>{s}</option>
              ))}
            </select>
          </label>
        ))
      )}
      <button
        type="button"
        className="press"
        aria-label={`Take the value ${wordsOf(fields['name'])} out`}
        onClick={() => editing.edit([{ do: 'remove', list, at }])}
      >
        Take out
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
      value: gauge ?? chosen,
    },
  ];
}

/** A number as it was typed, with a comma or a point; words stay words, and the reader of the file says what it expected. */
function numberOf(text: string): unknown {
  const n = Number(text.replace(',', '.'));
  return text.trim() === '' ? undefined : Number.isFinite(n) ? n : text;
}

function countAt(text: string, path: Path): number {
  let n = 0;
  while (fieldsAt(text, [...path, n]) !== null) n += 1;
  return n;
}

function gaugesIn(text: string): { id: string; name: string; steps: readonly string[] }[] {
  if (outlineOf(text) === null) return [];
  return Array.from({ length: countAt(text, ['gauges']) }, (_, i) => {
    const fields = fieldsAt(text, ['gauges', i]) ?? {};
    const steps = Array.isArray(fields['steps']) ? fields['steps'] : [];
    return {
      id: wordsOf(fields['id']),
      name: wordsOf(fields['name']),
      steps: steps.map((s: unknown) =>
        typeof s === 'string' ? s : wordsOf((s as Record<string, unknown> | null)?.['name']),
      ),
    };
  });
}
