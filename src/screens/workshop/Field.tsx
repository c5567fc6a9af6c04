import { useEffect, useRef, useState } from 'react';
import { listEdits, renamed } from '#catalogue';
import { listed, listOf, namesOf, wordsOf, type Fields, type Path } from './fields.ts';
import type { Editing } from './useEditing.ts';

/** Typing is taken over when it pauses for this long, so that names are heard while they are typed. Milliseconds. */
const PAUSE = 400;

/** A line of text that is a field of the file. It is written when typing pauses, and when the field is left. */
export function Field({
  label,
  value,
  set,
  help,
}: {
  label: string;
  value: string;
  set: (value: string) => void;
  help?: string;
}) {
  const [typed, setTyped] = useState<string | null>(null);
  const latest = useRef(set);
  useEffect(() => {
    latest.current = set;
  });
  useEffect(() => {
    if (typed === null || typed === value) return;
    const timer = setTimeout(() => latest.current(typed), PAUSE);
    return () => clearTimeout(timer);
  }, [typed, value]);
  return (
    <label className="field">
      <span>{label}</span>
      <input
        value={typed ?? value}
        autoComplete="off"
        onChange={(e) => setTyped(e.target.value)}
        onBlur={() => {
          if (typed !== null && typed !== value) set(typed);
          setTyped(null);
        }}
        onKeyDown={(e) => {
          if (e.key === 'Enter' && typed !== null && typed !== value) set(typed);
        }}
      />
      {help !== undefined && <span className="small quiet">{help}</span>}
    </label>
  );
}

/** A thing in the file, and which of its fields is meant. */
export interface Spot {
  readonly editing: Editing;
  /** Where the thing is. */
  readonly path: Path;
  readonly fields: Fields;
  readonly field: string;
  readonly label: string;
  readonly help?: string;
}

/** A field that is words; empty, it is left out of the file. */
export function Words({ editing, path, fields, field, ...shown }: Spot) {
  return (
    <Field
      {...shown}
      value={wordsOf(fields[field])}
      set={(v) => editing.edit([{ do: 'set', path: [...path, field], value: v || undefined }])}
    />
  );
}

/** A field that is several words, with commas between. What else is written in an entry stays in it. */
export function Several({ editing, path, fields, field, ...shown }: Spot) {
  const before = listOf(fields[field]);
  const value = namesOf(before).join(', ');
  return (
    <Field
      {...shown}
      value={value}
      set={(v) => editing.edit(listEdits([...path, field], before, renamed(before, listed(v))))}
    />
  );
}

/** A field that is true or left out. */
export function Tick({ editing, path, fields, field, label, help }: Spot) {
  return (
    <label className="tick">
      <input
        type="checkbox"
        checked={fields[field] === true}
        onChange={(e) =>
          editing.edit([
            { do: 'set', path: [...path, field], value: e.target.checked ? true : undefined },
          ])
        }
      />
      <span>
        {label}
        {help !== undefined && <span className="small quiet"> {help}</span>}
      </span>
    </label>
  );
}
