import type { Path } from '../problem.ts';
import type { Edit } from './edit.ts';

/**
 * The changes that make one list of a file into another. What is the same in
 * both is not touched, so the comments beside it stay; a list that ends empty
 * is left out of the file.
 */
export function listEdits(
  path: Path,
  before: readonly unknown[],
  after: readonly unknown[],
): readonly Edit[] {
  if (after.length === 0) return before.length === 0 ? [] : [{ do: 'set', path, value: undefined }];
  if (before.length === 0) return [{ do: 'set', path, value: after }];
  if (before.length === after.length)
    return after.flatMap((value, i): Edit[] =>
      same(before[i], value) ? [] : [{ do: 'set', path: [...path, i], value }],
    );
  const shorter = Math.min(before.length, after.length);
  let head = 0;
  while (head < shorter && same(before[head], after[head])) head += 1;
  let tail = 0;
  while (tail < shorter - head && same(before.at(-1 - tail), after.at(-1 - tail))) tail += 1;
  return [
    ...before
      .slice(head, before.length - tail)
      .map((): Edit => ({ do: 'remove', list: path, at: head })),
    ...after
      .slice(head, after.length - tail)
      .map((value, i): Edit => ({ do: 'insert', list: path, at: head + i, value })),
  ];
}

/**
 * Entries under other names: one whose name is kept is kept whole, with
 * whatever else is written in it, and so is one that was only called otherwise.
 */
export function renamed(before: readonly unknown[], names: readonly string[]): readonly unknown[] {
  return names.map((name, i) => {
    const kept = before.find((entry) => nameOf(entry) === name);
    if (kept !== undefined) return kept;
    const here = before.length === names.length ? before[i] : undefined;
    return isThing(here) && !names.includes(nameOf(here)) ? { ...here, name } : name;
  });
}

function nameOf(entry: unknown): string {
  if (typeof entry === 'string' || typeof entry === 'number') return String(entry);
  return isThing(entry) && typeof entry['name'] === 'string' ? entry['name'] : '';
}

function isThing(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function same(a: unknown, b: unknown): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}
