import Papa from 'papaparse';
import type { Catalogue } from '#shared/catalogue';
import { SEVERITY_WORDS } from '#shared/severity';
import type { SquawkStep } from '#shared/squawk';
import { type Squawk } from '#shared/squawk';
import { narrativeOf } from './narrative.ts';
import { conditionWords, partWords, squawkTitle } from './squawk-title.ts';

/** The open items of one aircraft, dated, for people without the app. */
export interface Discrepancies {
  readonly aircraft: string;
  readonly squawks: readonly Squawk[];
  readonly catalogue: Catalogue | null;
  /** Milliseconds since 1970. */
  readonly at: number;
}

/** Said on every list: it is no maintenance entry. */
export const DISCREPANCY_NOTICE =
  'List of discrepancies reported by pilots. It is not a maintenance entry and not a return to service: for that see 14 CFR 43.9 and 43.11 or your own rules. Deferral: see 14 CFR 91.213 or your own rules; local rules decide.';

/** Columns that a mechanic reads. */
const TOLD = [
  'squawk',
  'aircraft',
  'state',
  'reported',
  'reporter',
  'part',
  'position',
  'condition',
  'value',
  'limit',
  'severity',
  'hours',
  'jasc',
  'narrative',
] as const;

/** Columns that a mechanic fills in. */
export const ANSWER = [
  'rectified_by',
  'certificate',
  'certificate_kind',
  'work_reference',
  'rectified_on',
] as const;

export const COLUMNS: readonly string[] = [...TOLD, ...ANSWER];

type Row = Record<(typeof TOLD)[number] | (typeof ANSWER)[number], string>;

function rowOf(squawk: Squawk, catalogue: Catalogue | null): Row {
  const { fault } = squawk;
  const rectified = squawk.history.map((h) => h.step).findLast((s) => s.step === 'rectified');
  const work = rectified?.step === 'rectified' ? rectified : null;
  return {
    squawk: squawk.id,
    aircraft: squawk.aircraft,
    state: squawk.state,
    reported: new Date(squawk.opened).toISOString().slice(0, 10),
    reporter: squawk.reporter ?? '',
    part: partWords(fault) ?? fault.words,
    position: fault.position ?? '',
    condition: fault.conditions.map((c) => conditionWords(c, catalogue)).join(', '),
    value: fault.value?.said ?? '',
    limit: fault.value?.limit ?? '',
    severity: fault.severity === null ? '' : SEVERITY_WORDS[fault.severity],
    hours: squawk.hours === null ? '' : String(squawk.hours),
    jasc: squawk.jasc ?? '',
    narrative: narrativeOf(squawk, catalogue),
    rectified_by: work?.by ?? '',
    certificate: work?.certificate ?? '',
    certificate_kind: work?.certificateKind ?? '',
    work_reference: work?.reference ?? '',
    rectified_on: work?.date ?? '',
  };
}

/**
 * CSV by RFC 4180. Cells that a spreadsheet would take for a formula are
 * neutralised with a leading apostrophe.
 */
export function discrepancyCsv(list: Discrepancies): string {
  const data = list.squawks.map((s) => rowOf(s, list.catalogue));
  return Papa.unparse({ fields: [...COLUMNS], data }, { escapeFormulae: true, newline: '\r\n' });
}

/** The same as JSON, with everything that the record knows. */
export function discrepancyJson(list: Discrepancies): string {
  return JSON.stringify(
    {
      kind: 'talkround-discrepancies',
      v: 1,
      aircraft: list.aircraft,
      dated: new Date(list.at).toISOString(),
      notice: DISCREPANCY_NOTICE,
      discrepancies: list.squawks.map((squawk) => ({
        title: squawkTitle(squawk.fault, list.catalogue),
        ...rowOf(squawk, list.catalogue),
        record: squawk,
      })),
    },
    null,
    2,
  );
}

export interface AnswerStep {
  readonly aircraft: string;
  readonly squawk: string;
  readonly step: SquawkStep;
}

export type AnswersRead =
  | { readonly ok: true; readonly steps: readonly AnswerStep[]; readonly text: string }
  | { readonly ok: false; readonly error: string };

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
  const parsed = Papa.parse<Record<string, string>>(text.replace(/^\uFEFF/, ''), {
    header: true,
    skipEmptyLines: 'greedy',
    transformHeader: (h) => h.trim().toLowerCase(),
  });
  const fields = parsed.meta.fields ?? [];
  const missing = ['squawk', ...ANSWER].filter((c) => !fields.includes(c));
  if (missing.length > 0) {
    return {
      ok: false,
      error: `${file} has no column ${missing.map((m) => `"${m}"`).join(', ')}; fill in the list that Talkround gave out.`,
    };
  }
  const steps: AnswerStep[] = [];
  const left: string[] = [];
  parsed.data.forEach((row, i) => {
    const answer = answerIn(row, known);
    if (typeof answer === 'string') left.push(`line ${i + 2}: ${answer}`);
    else if (answer !== null) steps.push(answer);
  });
  const broken = parsed.errors.find((e) => e.type === 'Quotes');
  if (broken !== undefined)
    left.push(`line ${(broken.row ?? 0) + 2}: a quotation mark is not closed; the file may be cut`);
  const taken = `${steps.length} ${steps.length === 1 ? 'answer' : 'answers'} taken from ${file}.`;
  const rest = left.length === 0 ? '' : ` Left out: ${left.join('; ')}.`;
  if (steps.length === 0 && left.length > 0)
    return { ok: false, error: `Nothing was taken from ${file}.${rest}` };
  return { ok: true, steps, text: `${taken}${rest}` };
}

/** The step of one row; null where nothing is answered; a sentence where it cannot be taken. */
function answerIn(
  row: Record<string, string>,
  known: readonly Squawk[],
): AnswerStep | string | null {
  const cell = (name: string) => (row[name] ?? '').trim().replace(/^'(?=[=+\-@])/, '');
  const filled = ANSWER.filter((c) => cell(c) !== '');
  if (filled.length === 0) return null;
  const squawk = known.find((s) => s.id === cell('squawk'));
  if (squawk === undefined) return `there is no squawk "${cell('squawk')}" on this device`;
  const empty = ANSWER.filter((c) => cell(c) === '');
  if (empty.length > 0) return `${empty.map((e) => `"${e}"`).join(', ')} not filled in`;
  if (!isDay(cell('rectified_on'))) return `"${cell('rectified_on')}" is no day as 2026-01-31`;
  if (isAnswered(squawk, cell('work_reference'))) return null;
  return {
    aircraft: squawk.aircraft,
    squawk: squawk.id,
    step: {
      step: 'rectified',
      by: cell('rectified_by'),
      certificate: cell('certificate'),
      certificateKind: cell('certificate_kind'),
      reference: cell('work_reference'),
      date: cell('rectified_on'),
    },
  };
}

function isDay(text: string): boolean {
  return /^\d{4}-\d{2}-\d{2}$/.test(text) && !Number.isNaN(Date.parse(text));
}

/** The same answer brought in twice is one answer. */
function isAnswered(squawk: Squawk, reference: string): boolean {
  return squawk.history.some(
    ({ step }) => step.step === 'rectified' && step.reference === reference,
  );
}
