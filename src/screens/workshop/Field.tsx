import { useEffect, useRef, useState } from 'react';

/** Typing is taken over when it pauses for this long, so that names are heard while they are typed. Milliseconds. */
const PAUSE = 400;

/** A line of text that is a field of the file. It is written when typing pauses, and when the field is left. */
export function Field({
  label,
  value,
  set,
  help,
  list,
}: {
  label: string;
  value: string;
  set: (value: string) => void;
  help?: string;
  list?: string;
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
        list={list}
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

/** Words with commas between, as a list; undefined when there are none, so that the field is left out. */
export function listed(text: string): string[] | undefined {
  const words = text
    .split(',')
    .map((w) => w.trim())
    .filter((w) => w !== '');
  return words.length === 0 ? undefined : words;
}

/** What of a field is words. */
export function wordsOf(value: unknown): string {
  return typeof value === 'string' || typeof value === 'number' ? String(value) : '';
}

/** The names of a list whose entries are words, or things with a name. */
export function namesOf(value: unknown): string[] {
  if (!Array.isArray(value)) return [];
  return value.flatMap((v: unknown) => {
    if (typeof v === 'string' || typeof v === 'number') return [String(v)];
    const name =
      typeof v === 'object' && v !== null ? (v as Record<string, unknown>)['name'] : undefined;
    return typeof name === 'string' ? [name] : [];
  });
}
