/** A path inside the document: keys and positions, such as `['stations', 0, 'checks', 3, 'jasc']`. */
export type Path = readonly (string | number)[];

/** One mistake in a catalogue, with the place where an author's editor can go. */
export interface Problem {
  readonly file: string;
  /** First line is 1. */
  readonly line: number;
  /** First column is 1. */
  readonly column: number;
  /** As a person writes it: `stations[0].checks[3].jasc`; empty for the whole file. */
  readonly path: string;
  /** One sentence: what is wrong, and what was expected. */
  readonly text: string;
}

/** A mistake before its line is known. `key` points at a field's name, not its value. */
export interface Found {
  readonly path: Path;
  readonly key?: string;
  readonly text: string;
}

/** `['stations', 0, 'checks', 3, 'jasc']` as `stations[0].checks[3].jasc`. */
export function pathText(path: Path): string {
  return path
    .map((step, i) => (typeof step === 'number' ? `[${step}]` : i === 0 ? step : `.${step}`))
    .join('');
}

/** A piece of the author's text for a sentence: short, and never broken over lines. */
export function quoted(value: unknown): string {
  const text = typeof value === 'string' ? value : (JSON.stringify(value) ?? String(value));
  const line = text.replace(/\s+/g, ' ');
  return `"${line.length > 60 ? `${line.slice(0, 57)}…` : line}"`;
}
