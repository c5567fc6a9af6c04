import type { Path } from '../problem.ts';

/**
 * The map that a line of a YAML file stands in, by its indentation: enough to
 * tell which fields may be written there while the file cannot be read. Places
 * in lists are all 0: the schema does not tell entries apart.
 *
 * @param line first line is 0
 */
export function mapAt(lines: readonly string[], line: number): Path {
  const path: (string | number)[] = [];
  let at = partsOf(lines[line] ?? '');
  path.unshift(...at.dashes.map(() => 0));
  let column = at.dashes[0] ?? at.column;
  let inList = at.dashes.length > 0;
  for (let i = line - 1; i >= 0 && (column > 0 || inList); i -= 1) {
    const text = lines[i] ?? '';
    if (text.trim() === '' || text.trim().startsWith('#')) continue;
    at = partsOf(text);
    const begins = at.dashes[0];
    // The entry of a list that this field belongs to begins here.
    if (!inList && begins !== undefined && at.column === column) {
      path.unshift(...at.dashes.map(() => 0));
      column = begins;
      inList = true;
      continue;
    }
    // A list may stand in the column of its key; a map stands further in.
    if (
      at.key !== null &&
      (inList ? at.column <= column && begins === undefined : at.column < column)
    ) {
      path.unshift(at.key);
      column = at.column;
      inList = false;
    } else if (at.key !== null && inList && begins !== undefined && at.column <= column) {
      path.unshift(at.key);
      path.unshift(...at.dashes.map(() => 0));
      column = begins;
      inList = true;
    } else if (at.key !== null && !inList && begins !== undefined && at.column < column) {
      path.unshift(at.key);
      path.unshift(...at.dashes.map(() => 0));
      column = begins;
      inList = true;
    }
  }
  return path;
}

/** Where a line's dashes stand, and its key. */
function partsOf(text: string): { dashes: readonly number[]; column: number; key: string | null } {
  const dashes: number[] = [];
  let column = text.length - text.trimStart().length;
  while (/^-( |$)/.test(text.slice(column))) {
    dashes.push(column);
    const rest = text.slice(column + 1);
    column += 1 + (rest.length - rest.trimStart().length);
  }
  const key = /^["']?([\w-]+)["']?\s*:/.exec(text.slice(column))?.[1] ?? null;
  return { dashes, column, key };
}
