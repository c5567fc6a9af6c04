import { fieldsAt, fieldsFor, type Outline } from '#catalogue';
import { Act } from '#shared/catalogue';
import { Circumstance, CIRCUMSTANCE_WORDS } from '#shared/circumstance';
import { capital } from '../parts/words.ts';
import type { Heed, Workshop } from './desk.ts';
import { Field, listed, namesOf, wordsOf } from './Field.tsx';
import { Measures } from './Measures.tsx';
import { Signs } from './Signs.tsx';
import { Sounds } from './Sounds.tsx';
import type { Editing } from './useEditing.ts';

const ACT_WORDS: Readonly<Record<Act, string>> = {
  look: 'Look',
  feel: 'Feel',
  move: 'Move',
  measure: 'Measure',
  listen: 'Listen',
};

/** A check's fields: each is one field of the file. */
export function CheckForm({
  outline,
  editing,
  shop,
  station,
  check,
  open,
  heeds,
}: {
  outline: Outline;
  editing: Editing;
  shop: Workshop;
  station: number;
  check: number;
  open: readonly string[];
  heeds: readonly Heed[];
}) {
  const list = ['stations', station, 'checks'];
  const path = [...list, check];
  const fields = fieldsAt(editing.text, path);
  if (fields === null) return null;
  const set = (field: string, value: unknown) =>
    editing.edit([{ do: 'set', path: [...path, field], value: value === '' ? undefined : value }]);
  const name = wordsOf(fields['name']);
  const say = namesOf(fields['say']);
  const acts = namesOf(fields['acts']);
  const own = heeds.filter((h) => h.check === fields['id']);
  const only = outline.stations[station]?.checks.length === 1;
  return (
    <section className="form" aria-label="Check">
      <h2>{name || 'A check'}</h2>
      {open.length > 0 && (
        <div className="guesses">
          <h3>Guessed from the text</h3>
          <ul>
            {open.map((g) => (
              <li key={g}>{capital(g)}</li>
            ))}
          </ul>
          <button
            type="button"
            className="press"
            onClick={() => editing.edit([{ do: 'confirm', list, at: check }])}
          >
            It is right so
          </button>
        </div>
      )}
      <Field label="Name" value={name} set={(v) => set('name', v)} />
      {own.map((h) => (
        <div key={h.text} className="notice heed">
          <p>{h.text}</p>
          {h.sentences.length > 0 && (
            <ul className="small">
              {h.sentences.map((s) => (
                <li key={s.said}>
                  <q>{s.said}</q> means: {s.read}
                </li>
              ))}
            </ul>
          )}
        </div>
      ))}
      <Field
        label="Other names that people say, with commas between"
        value={say.join(', ')}
        set={(v) => set('say', listed(v))}
      />
      <Field
        label="To be spoken for each, with commas between"
        value={namesOf(fields['aspects']).join(', ')}
        help="Such as condition, slack. Left out: any result that names the check speaks for it."
        set={(v) => set('aspects', listed(v))}
      />
      <fieldset>
        <legend>How it is done</legend>
        <div className="ticks">
          {Act.options.map((act) => (
            <label key={act} className="tick">
              <input
                type="checkbox"
                checked={acts.length === 0 ? act === 'look' : acts.includes(act)}
                onChange={(e) => {
                  const now = new Set(acts.length === 0 ? ['look'] : acts);
                  if (e.target.checked) now.add(act);
                  else now.delete(act);
                  set('acts', now.size === 0 ? undefined : Act.options.filter((a) => now.has(a)));
                }}
              />
              {ACT_WORDS[act]}
            </label>
          ))}
        </div>
      </fieldset>
      <Field
        label="Places: a number, or their names with commas between"
        value={placesText(fields['repeat'])}
        set={(v) => set('repeat', placesOf(v))}
      />
      <label className="field">
        <span>Required</span>
        <select
          value={requiredOf(fields['required'])}
          onChange={(e) => set('required', asRequired(e.target.value))}
        >
          <option value="always">Always</option>
          <option value="follow-up">Only when a sign demands it</option>
          {Circumstance.options.map((c) => (
            <option key={c} value={c}>
              {capital(CIRCUMSTANCE_WORDS[c])}
            </option>
          ))}
          {requiredOf(fields['required']) === 'several' && (
            <option value="several">On several occasions, see the file</option>
          )}
        </select>
      </label>
      {fieldsFor(path)
        .filter((f) => f.flag && !f.values.length)
        .map((f) => (
          <label key={f.name} className="tick">
            <input
              type="checkbox"
              checked={fields[f.name] === true}
              onChange={(e) => set(f.name, e.target.checked ? true : undefined)}
            />
            <span>
              {FLAG_WORDS[f.name] ?? capital(f.name)}{' '}
              <span className="small quiet">{f.about.replace(/^true: /, '')}</span>
            </span>
          </label>
        ))}
      <Measures editing={editing} path={[...path, 'measures']} />
      <Signs
        editing={editing}
        path={[...path, 'signs']}
        outline={outline}
        own={wordsOf(fields['id'])}
      />
      <Field
        label="Caution, read out before the act"
        value={wordsOf(fields['caution'])}
        set={(v) => set('caution', v)}
      />
      <Field
        label="Source: where it comes from"
        value={wordsOf(fields['source'])}
        set={(v) => set('source', v)}
      />
      <Sounds
        shop={shop}
        editing={editing}
        path={path}
        names={[name, ...say]}
        own={fields['pronounce']}
      />
      <button
        type="button"
        className="press"
        disabled={only}
        onClick={() => editing.edit([{ do: 'remove', list, at: check }])}
      >
        Take the check out
      </button>
      {only && (
        <p className="small quiet">
          A station has at least one check; take the station out instead.
        </p>
      )}
    </section>
  );
}

/** Ticks by their field; a field that is new in the schema is called by its own name. */
const FLAG_WORDS: Readonly<Record<string, string>> = {
  blanket: 'A verdict over the whole station speaks for it',
  optional: 'May not be fitted',
};

function requiredOf(value: unknown): string {
  if (value === undefined) return 'always';
  if (typeof value === 'string') return value;
  const list = namesOf(value);
  return list.length === 1 ? (list[0] ?? 'always') : 'several';
}

function asRequired(value: string): unknown {
  if (value === 'always') return undefined;
  return value === 'follow-up' ? value : [value];
}

function placesText(repeat: unknown): string {
  if (typeof repeat === 'number') return String(repeat);
  if (Array.isArray(repeat)) return namesOf(repeat).join(', ');
  const of =
    typeof repeat === 'object' && repeat !== null
      ? (repeat as Record<string, unknown>)['of']
      : undefined;
  return of === undefined ? '' : placesText(of);
}

function placesOf(text: string): unknown {
  const n = Number(text);
  if (text.trim() !== '' && Number.isInteger(n)) return n;
  return listed(text);
}
