import Papa from 'papaparse';
import type { Item, Part } from './draft.ts';

/** What a column holds, told by its heading. */
type Column = 'station' | 'item' | 'action' | 'limit' | 'min' | 'max' | 'unit' | 'left';
const HEADINGS: readonly (readonly [RegExp, Column])[] = [
  [/^(station|area|zone|section|location|position|where|group)$/i, 'station'],
  [/^(item|check|component|part|thing|inspect|name|subject)s?$/i, 'item'],
  [/^(action|what to do|task|how|procedure|condition|requirement|instruction|do)s?$/i, 'action'],
  [/^(limits?|value|tolerance|range)$/i, 'limit'],
  [/^(min|minimum|low|from|at least)\.?$/i, 'min'],
  [/^(max|maximum|high|to|at most)\.?$/i, 'max'],
  [/^(unit|units|uom)$/i, 'unit'],
];
/** A line is a heading when so many of its cells are known headings. */
const KNOWN_CELLS = 2;

interface Row {
  readonly cells: readonly string[];
  readonly lines: readonly number[];
}

/** Whether the text is a table that a spreadsheet wrote: a heading line that names what its columns hold. */
export function isTable(text: string): boolean {
  const first = text.trimStart().split(/\r?\n/, 1)[0] ?? '';
  if (!/[\t,;]/.test(first)) return false;
  const cells = Papa.parse<string[]>(first, { header: false }).data[0] ?? [];
  return cells.filter((c) => columnOf(c) !== null).length >= KNOWN_CELLS;
}

function columnOf(heading: string): Column | null {
  return HEADINGS.find(([p]) => p.test(heading.trim()))?.[1] ?? null;
}

/**
 * A table as parts. A merged cell leaves the cells below it empty, so an empty
 * station is the one above, and what stands beside an empty item is done with
 * the item above; a line with a station alone begins it.
 */
export function partsOfTable(text: string): Part[] {
  const [head, ...rows] = rowsOf(text);
  if (head === undefined) return [];
  const columns = head.cells.map((c): Column => columnOf(c) ?? 'left');
  const parts: Part[] = [{ kind: 'title', text: '', lines: head.lines }];
  let station = '';
  for (const row of rows) {
    const cell = (of: Column) =>
      columns
        .flatMap((c, i) => (c === of ? [(row.cells[i] ?? '').trim()] : []))
        .filter((c) => c !== '')
        .join(', ');
    if (row.cells.every((c) => c.trim() === '')) continue;
    const named = cell('station');
    if (named !== '' && named !== station) {
      station = named;
      parts.push({ kind: 'station', name: named, lines: row.lines });
    }
    const name = cell('item');
    const others = cell('left');
    const last = parts.at(-1);
    const more = itemOf(name, cell, row.lines);
    if (name !== '') parts.push({ kind: 'check', item: more });
    else if (named === '' && more.action !== '' && others === '' && last?.kind === 'check')
      parts.splice(-1, 1, { kind: 'check', item: joined(last.item, more) });
    else if (named === '' || cell('action') !== '')
      parts.push({
        kind: 'left',
        text: row.cells.filter((c) => c.trim() !== '').join(' | '),
        lines: row.lines,
      });
    if (name !== '' && others !== '') parts.push({ kind: 'left', text: others, lines: row.lines });
  }
  return parts;
}

function joined(item: Item, more: Item): Item {
  const action = [item.action, more.action].filter((a) => a !== '').join(', ');
  return { ...item, action, lines: [...item.lines, ...more.lines] };
}

function itemOf(name: string, cell: (of: Column) => string, lines: readonly number[]): Item {
  const unit = cell('unit');
  const [min, max] = [cell('min'), cell('max')];
  const limits = [
    cell('limit'),
    ...(min !== '' && max !== '' ? [`${min} to ${max} ${unit}`] : []),
    ...(min !== '' && max === '' ? [`min ${min} ${unit}`] : []),
    ...(min === '' && max !== '' ? [`max ${max} ${unit}`] : []),
  ];
  return {
    name,
    action: [cell('action'), ...limits].filter((s) => s.trim() !== '').join(', '),
    lines,
  };
}

/** Rows with the lines that they stand on: a cell in quotes may hold several. */
function rowsOf(text: string): Row[] {
  const rows: Row[] = [];
  let from = 1;
  let at = 0;
  Papa.parse<string[]>(text, {
    header: false,
    step(result) {
      const end = result.meta.cursor;
      const breaks = (text.slice(at, end).match(/\r\n|\n|\r/g) ?? []).length;
      const lines = Array.from({ length: Math.max(1, breaks) }, (_, i) => from + i);
      rows.push({ cells: result.data, lines });
      from += breaks;
      at = end;
    },
  });
  return rows;
}
