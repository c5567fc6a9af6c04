import { fieldsAt, freeId, type Outline } from '#catalogue';
import { Severity, SEVERITY_WORDS } from '#shared/severity';
import { Field, listed, namesOf, wordsOf } from './Field.tsx';
import type { Editing } from './useEditing.ts';

type Path = readonly (string | number)[];

/** Signs that may be found at a check, with what they demand. Signs of the whole catalogue are ticked by name. */
export function Signs({
  editing,
  path,
  outline,
  own,
}: {
  editing: Editing;
  path: Path;
  outline: Outline;
  own: string;
}) {
  const { text } = editing;
  const parent = fieldsAt(text, path.slice(0, -1));
  const list: readonly unknown[] = Array.isArray(parent?.['signs']) ? parent['signs'] : [];
  const shared = Array.from(
    { length: countAt(text) },
    (_, i) => fieldsAt(text, ['signs', i]) ?? {},
  );
  const checks = outline.stations.flatMap((s) => s.checks).filter((c) => c.id !== own);
  return (
    <fieldset>
      <legend>What may be found</legend>
      {shared.length > 0 && (
        <div className="ticks">
          {shared.map((s) => {
            const id = wordsOf(s['id']);
            const at = list.indexOf(id);
            return (
              <label key={id} className="tick">
                <input
                  type="checkbox"
                  checked={at >= 0}
                  onChange={() =>
                    editing.edit([
                      at >= 0
                        ? { do: 'remove', list: path, at }
                        : { do: 'insert', list: path, at: list.length, value: id },
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
        typeof sign === 'object' && sign !== null ? (
          <OwnSign
            key={i}
            editing={editing}
            list={path}
            at={i}
            fields={sign as Record<string, unknown>}
            checks={checks}
          />
        ) : null,
      )}
      <button
        type="button"
        className="press plain"
        onClick={() => {
          const taken = new Set([...shared, ...list].map((s) => signId(s)));
          const value = { id: freeId('new sign', taken), name: 'new sign' };
          editing.edit([{ do: 'insert', list: path, at: list.length, value }]);
        }}
      >
        Add a sign of this check
      </button>
    </fieldset>
  );
}

function signId(sign: unknown): string {
  if (typeof sign === 'string') return sign;
  return typeof sign === 'object' && sign !== null
    ? wordsOf((sign as Record<string, unknown>)['id'])
    : '';
}

function countAt(text: string): number {
  let n = 0;
  while (fieldsAt(text, ['signs', n]) !== null) n += 1;
  return n;
}

function OwnSign({
  editing,
  list,
  at,
  fields,
  checks,
}: {
  editing: Editing;
  list: Path;
  at: number;
  fields: Readonly<Record<string, unknown>>;
  checks: readonly { readonly id: string; readonly name: string }[];
}) {
  const set = (field: string, value: unknown) =>
    editing.edit([
      { do: 'set', path: [...list, at, field], value: value === '' ? undefined : value },
    ]);
  const demands = namesOf(fields['followUps']);
  const name = wordsOf(fields['name']);
  return (
    <div className="measure fields">
      <Field label="Sign" value={name} set={(v) => set('name', v)} />
      <Field
        label="Words that mean it here, by their id"
        value={namesOf(fields['conditions']).join(', ')}
        help="Such as crack, leak, chafing."
        set={(v) => set('conditions', listed(v))}
      />
      <label className="field">
        <span>Usually</span>
        <select
          value={wordsOf(fields['severity'])}
          onChange={(e) => set('severity', e.target.value)}
        >
          <option value="">ask the speaker</option>
          {Severity.options.map((s) => (
            <option key={s} value={s}>
              {SEVERITY_WORDS[s]}
            </option>
          ))}
        </select>
      </label>
      <Field label="Suggests" value={wordsOf(fields['suggests'])} set={(v) => set('suggests', v)} />
      <label className="field">
        <span>
          Demands the check
          {demands.length > 0 && `: ${demands.map((d) => nameIn(checks, d)).join(', ')}`}
        </span>
        <select
          value=""
          aria-label={`${name} demands the check`}
          onChange={(e) => {
            const id = e.target.value;
            const next = demands.includes(id) ? demands.filter((d) => d !== id) : [...demands, id];
            set('followUps', next.length === 0 ? undefined : next);
          }}
        >
          <option value="">add one, or take one out</option>
          {checks.map((c) => (
            <option key={c.id} value={c.id}>
              {demands.includes(c.id) ? `${c.name} (take out)` : c.name}
            </option>
          ))}
        </select>
      </label>
      <button
        type="button"
        className="press"
        aria-label={`Take the sign ${name} out`}
        onClick={() => editing.edit([{ do: 'remove', list, at }])}
      >
        Take out
      </button>
    </div>
  );
}

function nameIn(
  checks: readonly { readonly id: string; readonly name: string }[],
  id: string,
): string {
  return checks.find((c) => c.id === id)?.name ?? id;
}
