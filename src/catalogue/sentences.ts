import type { z } from 'zod';
import { MAX_PROBLEMS } from './limits.ts';
import { quoted, type Found, type Path } from './problem.ts';
import { catalogueJsonSchema } from './schema.ts';

type Issue = z.core.$ZodIssue;
type Shape = Readonly<Record<string, unknown>>;

/** What the schema found, as sentences for an author: what is there, and what was expected. */
export function sentences(issues: readonly Issue[], value: unknown): Found[] {
  return issues.flatMap((issue) => sentencesOf(issue, [], value));
}

function sentencesOf(issue: Issue, above: Path, value: unknown): Found[] {
  const path: Path = [...above, ...issue.path.map((s) => (typeof s === 'number' ? s : String(s)))];
  const there = valueAt(value, path);
  const field = path.at(-1);
  const what = typeof field === 'string' ? `"${field}"` : 'This';
  const found = (text: string): Found[] => [{ path, text }];
  switch (issue.code) {
    case 'unrecognized_keys':
      return issue.keys
        .slice(0, MAX_PROBLEMS)
        .map((key) => ({ path, key, text: unknownField(key, path) }));
    case 'invalid_union':
      if (there === undefined) return found(`${what} is missing; expected ${expected(path)}.`);
      return (
        branchOf(issue, path, value) ??
        found(`${what} is ${shown(there)}; expected ${expected(path)}.`)
      );
    case 'invalid_type':
      return found(
        there === undefined
          ? `${what} is missing; expected ${expected(path)}.`
          : `${what} is ${shown(there)}; expected ${expected(path)}.${quotesHelp(issue.expected, there)}`,
      );
    case 'invalid_value':
      return found(
        there === undefined
          ? `${what} is missing; expected ${issue.values.map(String).join(', ')}.`
          : `${what} is ${shown(there)}; expected ${oneOf(issue.values.map(String))}.`,
      );
    case 'invalid_format':
      return found(`${what} is ${shown(there)}; ${issue.message}.`);
    case 'too_small':
      return found(
        there === ''
          ? `${what} is empty; expected ${expected(path)}.`
          : `${what} is too small or short; expected at least ${String(issue.minimum)}${unitOf(issue.origin)}.`,
      );
    case 'too_big':
      return found(
        `${what} is too big or long; expected at most ${String(issue.maximum)}${unitOf(issue.origin)}.`,
      );
    default:
      return found(`${what}: ${issue.message}.`);
  }
}

/** A branch that fails at its root with one of these was not the form the author was writing. */
const WHOLE = new Set(['invalid_type', 'invalid_value']);

/** Of the forms a field may take, the one the author was writing: the one that got furthest. */
function branchOf(
  issue: Extract<Issue, { code: 'invalid_union' }>,
  path: Path,
  value: unknown,
): Found[] | null {
  const there = valueAt(value, path);
  if (typeof there !== 'object' || there === null) {
    // A plain word or number: a branch that took the type but not the wording can say why.
    const wording = issue.errors.find((branch) =>
      branch.every((i) => i.code !== 'invalid_type' && i.code !== 'invalid_value'),
    );
    return wording === undefined || wording.length === 0
      ? null
      : wording.flatMap((i) => sentencesOf(i, path, value));
  }
  const inside = issue.errors.filter(
    (branch) => branch.length > 0 && !branch.some((i) => i.path.length === 0 && WHOLE.has(i.code)),
  );
  const best = [...inside].sort((a, b) => a.length - b.length)[0];
  return best === undefined ? null : best.flatMap((i) => sentencesOf(i, path, value));
}

function unknownField(key: string, path: Path): string {
  const fields = fieldsAt(path);
  const plain = (s: string): string =>
    s
      .toLowerCase()
      .replace(/[^a-z]/g, '')
      .replace(/s$/, '');
  const near = fields.find((f) => plain(f) === plain(key));
  if (near !== undefined) return `"${key}" is not a field here; did you mean "${near}"?`;
  return `"${key}" is not a field here; the fields are ${fields.join(', ')}.`;
}

function shown(value: unknown): string {
  if (value === null) return 'empty';
  if (Array.isArray(value)) return 'a list';
  if (typeof value === 'object') return 'a group of fields';
  return typeof value === 'number' ? `the number ${value}` : quoted(value);
}

/** YAML takes 7 for a number and [psi] for a list, where words were meant. */
function quotesHelp(expectedType: string, there: unknown): string {
  if (expectedType !== 'string') return '';
  if (typeof there === 'number' || typeof there === 'boolean') {
    return ` Put it in quotes: "${String(there)}".`;
  }
  const [only] = Array.isArray(there) && there.length === 1 ? (there as unknown[]) : [];
  return typeof only === 'string' ? ` Put it in quotes: "[${only}]".` : '';
}

function unitOf(origin: string): string {
  if (origin === 'string') return ' characters';
  if (origin === 'array' || origin === 'set') return ' entries';
  return '';
}

function oneOf(words: readonly string[]): string {
  return words.length === 1 ? String(words[0]) : `one of ${words.join(', ')}`;
}

function valueAt(value: unknown, path: Path): unknown {
  let at = value;
  for (const step of path) {
    if (typeof at !== 'object' || at === null || !Object.hasOwn(at, step)) return undefined;
    at = (at as Record<string | number, unknown>)[step];
  }
  return at;
}

/* What was expected is read from the JSON Schema, so that an error and an editor say the same. */

let schema: Shape | undefined;

function shapesAt(path: Path): readonly Shape[] {
  schema ??= catalogueJsonSchema();
  let at: readonly Shape[] = forms(schema);
  for (const step of path) {
    at = at.flatMap((shape) => forms(childOf(shape, step)));
  }
  return at;
}

function childOf(shape: Shape, step: string | number): unknown {
  if (typeof step === 'number') return shape['items'];
  const properties = shape['properties'];
  if (isShape(properties) && Object.hasOwn(properties, step)) return properties[step];
  return isShape(shape['additionalProperties']) ? shape['additionalProperties'] : undefined;
}

function forms(shape: unknown): readonly Shape[] {
  if (!isShape(shape)) return [];
  const any = shape['anyOf'];
  return Array.isArray(any)
    ? [...any.flatMap(forms), { description: shape['description'] }]
    : [shape];
}

function isShape(value: unknown): value is Shape {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** The fields that may stand at a path. */
function fieldsAt(path: Path): readonly string[] {
  return [
    ...new Set(
      shapesAt(path).flatMap((s) => (isShape(s['properties']) ? Object.keys(s['properties']) : [])),
    ),
  ];
}

const TYPES: Readonly<Record<string, string>> = {
  string: 'words',
  number: 'a number',
  integer: 'a whole number',
  boolean: 'true or false',
  array: 'a list',
  object: 'a group of fields',
};

/** What may stand at a path, in words: its kinds of value, then what the contract says about it. */
function expected(path: Path): string {
  const shapes = shapesAt(path);
  const kinds = shapes.flatMap((s) => {
    if (Array.isArray(s['enum'])) return [oneOf(s['enum'].map(String))];
    if (s['const'] !== undefined) return [quoted(s['const'])];
    return typeof s['type'] === 'string' ? [TYPES[s['type']] ?? s['type']] : [];
  });
  const kind = kinds.length === 0 ? 'something else' : [...new Set(kinds)].join(' or ');
  const description = shapes.map((s) => s['description']).find((d) => typeof d === 'string');
  return description === undefined ? kind : `${kind} (${description.replace(/\.$/, '')})`;
}
