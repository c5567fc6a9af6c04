import Papa from 'papaparse';
import type { Squawk, SquawkStep } from '#shared/squawk';
import { ANSWER } from './discrepancies.ts';
import { withoutApostrophe } from './formula.ts';

export interface AnswerStep {
  readonly aircraft: string;
  readonly squawk: string;
  readonly step: SquawkStep;
}

export type AnswersRead =
  | { readonly ok: true; readonly steps: readonly AnswerStep[]; readonly text: string }
  | { readonly ok: false; readonly error: string };

type Rectified = Extract<SquawkStep, { step: 'rectified' }>;

/** Largest list of answers, characters: more is another file. */
const LONGEST_CSV = 5_000_000;

/**
 * Reads the mechanic's answers from the CSV that Talkround gave out. Columns
 * may stand in another order and others may stand beside them. A row without
 * an answer is left alone; one that is half filled in is named and left out.
 */
export function readAnswers(text: string, file: string, known: readonly Squawk[]): AnswersRead {
  if (text.length > LONGEST_CSV)
    return { ok: false, error: `${file} is too long for a list of answers.` };
  const parsed = Papa.parse<string[]>(text.replace(/^\uFEFF/, ''));
  const rows = numbered(parsed.data);
  const head = (rows[0]?.cells ?? []).map((h) => h.trim().toLowerCase());
  const wanted = ['squawk', ...ANSWER];
  const missing = wanted.filter((c) => !head.includes(c));
  if (missing.length > 0) {
    return {
      ok: false,
      error: `${file} has no column ${missing.map((m) => `"${m}"`).join(', ')}; fill in the list that Talkround gave out.`,
    };
  }
  const twice = wanted.find((c) => head.indexOf(c) !== head.lastIndexOf(c));
  if (twice !== undefined) {
    return { ok: false, error: `${file} has the column "${twice}" twice; leave one of them out.` };
  }
  const taken: AnswerStep[] = [];
  const left: string[] = [];
  for (const { line, cells } of rows.slice(1)) {
    const answer = answerIn(new Map(head.map((h, i) => [h, cells[i] ?? ''])), known, taken);
    if (cells.length < head.length) left.push(`line ${line}: the row is cut short`);
    else if (typeof answer === 'string') left.push(`line ${line}: ${answer}`);
    else if (answer !== null) taken.push(answer);
  }
  if (parsed.errors.some((e) => e.type === 'Quotes')) {
    left.push('a quotation mark is not closed; the file may be cut');
  }
  const rest = left.length === 0 ? '' : ` Left out: ${left.join('; ')}.`;
  if (taken.length === 0 && left.length > 0)
    return { ok: false, error: `Nothing was taken from ${file}.${rest}` };
  const count = `${taken.length} ${taken.length === 1 ? 'answer' : 'answers'} taken from ${file}.`;
  return { ok: true, steps: taken, text: `${count}${rest}` };
}

/** Rows that hold anything, with the line of the file that each begins at. */
function numbered(rows: readonly string[][]): { line: number; cells: string[] }[] {
  let line = 1;
  return rows.flatMap((cells) => {
    const at = line;
    line += 1 + (cells.join('').match(/\r\n|\n|\r/g) ?? []).length;
    return cells.every((c) => c.trim() === '') ? [] : [{ line: at, cells }];
  });
}

/** The step of one row; null where nothing is answered; a sentence where it cannot be taken. */
function answerIn(
  row: ReadonlyMap<string, string>,
  known: readonly Squawk[],
  taken: readonly AnswerStep[],
): AnswerStep | string | null {
  const cell = (name: string) => withoutApostrophe(row.get(name) ?? '').trim();
  if (ANSWER.every((c) => cell(c) === '')) return null;
  const squawk = known.find((s) => s.id === cell('squawk'));
  if (squawk === undefined) return `there is no squawk "${cell('squawk')}" on this device`;
  const empty = ANSWER.filter((c) => cell(c) === '');
  if (empty.length > 0) return `${empty.map((e) => `"${e}"`).join(', ')} not filled in`;
  if (!isDay(cell('rectified_on'))) return `"${cell('rectified_on')}" is no day as 2026-01-31`;
  const step: Rectified = {
    step: 'rectified',
    by: cell('rectified_by'),
    certificate: cell('certificate'),
    certificateKind: cell('certificate_kind'),
    reference: cell('work_reference'),
    date: cell('rectified_on'),
  };
  const before = squawk.history.flatMap((h) => (h.step.step === 'rectified' ? [h.step] : []));
  const here = taken.flatMap((t) =>
    t.squawk === squawk.id && t.step.step === 'rectified' ? [t.step] : [],
  );
  if ([...before, ...here].some((other) => isSame(other, step))) return null;
  if (here.length > 0) return `a second and different answer to squawk "${squawk.id}"`;
  if (squawk.state === 'closed' || squawk.state === 'joined') {
    return `squawk "${squawk.id}" is ${squawk.state} already`;
  }
  return { aircraft: squawk.aircraft, squawk: squawk.id, step };
}

/**
 * The same answer brought in twice is one answer. One reference may cover work
 * that was done again after the fault came back: then its date is another.
 */
function isSame(a: Rectified, b: Rectified): boolean {
  return (
    a.by === b.by &&
    a.certificate === b.certificate &&
    a.certificateKind === b.certificateKind &&
    a.reference === b.reference &&
    a.date === b.date
  );
}

/** A day that there is: the engine takes 31 February for a day in March. */
function isDay(text: string): boolean {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return false;
  const at = Date.parse(`${text}T00:00:00Z`);
  return !Number.isNaN(at) && new Date(at).toISOString().slice(0, 10) === text;
}
