import Papa from 'papaparse';
import type { Squawk, SquawkStep } from '#shared/squawk';
import { dayIn, type DayOrder } from './day.ts';
import { ANSWER, COLUMNS } from './discrepancies.ts';
import { withoutApostrophe } from './formula.ts';

export interface AnswerStep {
  readonly aircraft: string;
  readonly squawk: string;
  readonly step: SquawkStep;
}

/** An answer that may be a slip: asked about, neither taken nor thrown away. */
export interface DoubtedAnswer {
  readonly steps: readonly AnswerStep[];
  /** One sentence: which line, and what is odd. */
  readonly why: string;
}

export type AnswersRead =
  | {
      readonly ok: true;
      readonly steps: readonly AnswerStep[];
      /** What stands in columns of the mechanic's own, added to the squawk in its words. */
      readonly notes: readonly AnswerStep[];
      readonly doubted: readonly DoubtedAnswer[];
      readonly text: string;
    }
  | {
      readonly ok: false;
      readonly error: string;
      /** Nothing is taken: a date in it may be two days, and nobody but its writer knows which. */
      readonly asks?: {
        readonly written: string;
        readonly dayFirst: string;
        readonly monthFirst: string;
      };
    };

export interface AnswersHow {
  /** Milliseconds since 1970: a later day lies in the future. */
  readonly now: number;
  /** How dates are written that may be two days; null: not told. */
  readonly order: DayOrder | null;
}

const AS_IT_STANDS: AnswersHow = { now: Number.POSITIVE_INFINITY, order: null };

type Rectified = Extract<SquawkStep, { step: 'rectified' }>;

/** Largest list of answers, characters: more is another file. */
const LONGEST_CSV = 5_000_000;

/**
 * Reads the mechanic's answers from the CSV that Talkround gave out. Columns
 * may stand in another order and others may stand beside them. A row without
 * an answer is left alone; one that is half filled in is named and left out.
 */
export function readAnswers(
  text: string,
  file: string,
  known: readonly Squawk[],
  how: AnswersHow = AS_IT_STANDS,
): AnswersRead {
  if (text.length > LONGEST_CSV)
    return { ok: false, error: `${file} is too long for a list of answers.` };
  const { body, delimiter } = withoutSep(text.replace(/^\uFEFF/, ''));
  const parsed = Papa.parse<string[]>(body, delimiter === null ? {} : { delimiter });
  const rows = numbered(parsed.data, delimiter === null ? 1 : 2);
  const head = (rows[0]?.cells ?? []).map((h) =>
    h
      .trim()
      .toLowerCase()
      .replace(/[\s-]+/g, '_'),
  );
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
  const notes: AnswerStep[] = [];
  const doubted: DoubtedAnswer[] = [];
  const left: string[] = [];
  let again = 0;
  for (const { line, cells } of rows.slice(1)) {
    const row = new Map(head.map((h, i) => [h, cells[i] ?? '']));
    if (cells.length < head.length) {
      left.push(`line ${line}: the row is cut short`);
      continue;
    }
    const answer = answerIn(row, known, taken, how);
    if (answer.kind === 'either') {
      const { written, dayFirst, monthFirst } = answer;
      return {
        ok: false,
        error: `${file} writes ${written}, which may be ${dayFirst} or ${monthFirst}; say which.`,
        asks: { written, dayFirst, monthFirst },
      };
    }
    const own = noteIn(row, known, file);
    if (answer.kind === 'again') again += 1;
    if (answer.kind === 'left') left.push(`line ${line}: ${answer.why}`);
    if (answer.kind === 'doubted')
      doubted.push({
        steps: [answer.step, ...(own === null ? [] : [own])],
        why: `Line ${line}: ${answer.why}`,
      });
    else if (own !== null) notes.push(own);
    if (answer.kind === 'taken') taken.push(answer.step);
  }
  if (parsed.errors.some((e) => e.type === 'Quotes')) {
    left.push('a quotation mark is not closed; the file may be cut');
  }
  const rest = left.length === 0 ? '' : ` Left out: ${left.join('; ')}.`;
  if (taken.length + notes.length + doubted.length === 0 && left.length > 0)
    return { ok: false, error: `Nothing was taken from ${file}.${rest}` };
  const count = `${taken.length} ${taken.length === 1 ? 'answer' : 'answers'} taken from ${file}.`;
  const known_ =
    again === 0
      ? ''
      : again === 1
        ? ' One answer was known already.'
        : ` ${again} answers were known already.`;
  return { ok: true, steps: taken, notes, doubted, text: `${count}${known_}${rest}` };
}

/** Spreadsheets write "sep=;" before the head to say what parts the cells. */
function withoutSep(text: string): { body: string; delimiter: string | null } {
  const said = /^"?sep=(.)"?\r?\n/i.exec(text);
  return said === null
    ? { body: text, delimiter: null }
    : { body: text.slice(said[0].length), delimiter: said[1] ?? ',' };
}

/** Rows that hold anything, with the line of the file that each begins at. */
function numbered(rows: readonly string[][], first: number): { line: number; cells: string[] }[] {
  let line = first;
  return rows.flatMap((cells) => {
    const at = line;
    line += 1 + (cells.join('').match(/\r\n|\n|\r/g) ?? []).length;
    return cells.every((c) => c.trim() === '') ? [] : [{ line: at, cells }];
  });
}

type Answered =
  | { readonly kind: 'none' | 'again' }
  | { readonly kind: 'taken'; readonly step: AnswerStep }
  | { readonly kind: 'doubted'; readonly step: AnswerStep; readonly why: string }
  | { readonly kind: 'left'; readonly why: string }
  | {
      readonly kind: 'either';
      readonly written: string;
      readonly dayFirst: string;
      readonly monthFirst: string;
    };

function cellOf(row: ReadonlyMap<string, string>, name: string): string {
  return withoutApostrophe(row.get(name) ?? '').trim();
}

/** What one row answers. */
function answerIn(
  row: ReadonlyMap<string, string>,
  known: readonly Squawk[],
  taken: readonly AnswerStep[],
  { now, order }: AnswersHow,
): Answered {
  const cell = (name: string) => cellOf(row, name);
  const leave = (why: string): Answered => ({ kind: 'left', why });
  if (ANSWER.every((c) => cell(c) === '')) return { kind: 'none' };
  const squawk = known.find((s) => s.id === cell('squawk'));
  if (squawk === undefined) return leave(`there is no squawk "${cell('squawk')}" on this device`);
  const empty = ANSWER.filter((c) => cell(c) === '');
  if (empty.length > 0) return leave(`${empty.map((e) => `"${e}"`).join(', ')} not filled in`);
  const written = cell('rectified_on');
  const day = dayIn(written, order);
  if (day.kind === 'none') return leave(`"${written}" is no day as 2026-01-31`);
  if (day.kind === 'either') return { ...day, written };
  const rectified: Rectified = {
    step: 'rectified',
    by: cell('rectified_by'),
    certificate: cell('certificate'),
    certificateKind: cell('certificate_kind'),
    reference: cell('work_reference'),
    date: day.day,
  };
  const before = squawk.history.flatMap((h) => (h.step.step === 'rectified' ? [h.step] : []));
  const here = taken.flatMap((t) =>
    t.squawk === squawk.id && t.step.step === 'rectified' ? [t.step] : [],
  );
  if ([...before, ...here].some((other) => isSame(other, rectified))) return { kind: 'again' };
  if (here.length > 0) return leave(`a second and different answer to squawk "${squawk.id}"`);
  if (squawk.state === 'closed' || squawk.state === 'joined' || squawk.state === 'withdrawn') {
    return leave(`squawk "${squawk.id}" is ${squawk.state} already`);
  }
  const step = { aircraft: squawk.aircraft, squawk: squawk.id, step: rectified };
  const odd = oddDay(day.day, squawk, now);
  return odd === null ? { kind: 'taken', step } : { kind: 'doubted', step, why: odd };
}

/** One sentence where the day of the work can hardly be right; null otherwise. */
function oddDay(day: string, squawk: Squawk, now: number): string | null {
  const found = new Date(squawk.opened).toISOString().slice(0, 10);
  // A mechanic a day ahead by the clock is no slip.
  if (Date.parse(`${day}T00:00:00Z`) > now + DAY)
    return `rectified on ${day}, which lies in the future.`;
  return day < found
    ? `rectified on ${day}, and the squawk was reported on ${found}, after that.`
    : null;
}

const DAY = 24 * 3600 * 1000;

const OURS: ReadonlySet<string> = new Set(COLUMNS);

/** What a mechanic wrote into columns of their own, so that nothing of the file is lost; null for nothing new. */
function noteIn(
  row: ReadonlyMap<string, string>,
  known: readonly Squawk[],
  file: string,
): AnswerStep | null {
  const squawk = known.find((s) => s.id === cellOf(row, 'squawk'));
  const note = [...row.keys()]
    .filter((name) => name !== '' && !OURS.has(name) && cellOf(row, name) !== '')
    .map((name) => `${name.replaceAll('_', ' ')}: ${cellOf(row, name)}`)
    .join('; ');
  if (squawk === undefined || note === '') return null;
  const told = squawk.history.some(({ step }) => step.step === 'noted' && step.note === note);
  if (told) return null;
  const by = cellOf(row, 'rectified_by') || file;
  return { aircraft: squawk.aircraft, squawk: squawk.id, step: { step: 'noted', by, note } };
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
