import Papa from 'papaparse';
import { FORMULA } from './formula.ts';
import type { Catalogue } from '#shared/catalogue';
import { reviewWords, type Review } from '#shared/coverage';
import { SEVERITY_FROM, SEVERITY_WORDS } from '#shared/severity';
import type { Picture } from '#shared/picture';
import { type Squawk } from '#shared/squawk';
import { lifeLines } from '#shared/steps';
import { narrativeOf } from './narrative.ts';
import type { PicturesHere } from './pictures.ts';
import { limitWritten } from '#shared/figures';
import { conditionWords, faultValue, partWords, squawkTitle } from './squawk-title.ts';

/** The open items of one aircraft, dated, for people without the app. */
export interface Discrepancies {
  readonly aircraft: string;
  readonly squawks: readonly Squawk[];
  readonly catalogue: Catalogue | null;
  /** Milliseconds since 1970. */
  readonly at: number;
  /** One sentence for each squawk whose deferral has run out, by its id. */
  readonly overdue?: ReadonlyMap<string, string>;
  /** What reviewers said of the words that a squawk came from, by its id. */
  readonly reviews?: ReadonlyMap<string, readonly Review[]>;
  /** Pictures of each squawk, by its id, and their bytes. */
  readonly pictures?: ReadonlyMap<string, readonly Picture[]>;
  readonly picturesHere?: PicturesHere;
  /** One sentence where the catalogue was not chosen for this aircraft. */
  readonly guessed?: string | null;
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
  'severity_from',
  'hours',
  'jasc',
  'deferral',
  'narrative',
  'reviewed',
  'history',
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

/** The deferral in force; null where there is none. */
export function deferralText(squawk: Squawk): string | null {
  if (squawk.state !== 'deferred') return null;
  const step = squawk.history.map((h) => h.step).findLast((s) => s.step === 'deferred');
  if (step?.step !== 'deferred') return null;
  const ends = [
    step.untilDate,
    step.untilHours === null ? null : `${step.untilHours} h`,
    step.untilFlights === null ? null : `${step.untilFlights} flights`,
  ].filter((e) => e !== null);
  const until = ends.length === 0 ? 'without an end' : `until ${ends.join(' or ')}`;
  const placard = step.placarded ? 'placarded' : 'no placard noted';
  const note = step.note === null ? '' : ` ${step.note}`;
  return `Deferred by ${step.by} on the authority of ${step.authority}, ${until}; ${placard}.${note}`;
}

type Row = Record<(typeof TOLD)[number] | (typeof ANSWER)[number], string>;

function rowOf(squawk: Squawk, { catalogue, overdue: out, reviews }: Discrepancies): Row {
  const overdue = out?.get(squawk.id) ?? null;
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
    value: fault.value === null ? '' : faultValue(fault.value),
    limit: (fault.value?.limit ?? null) === null ? '' : limitWritten(fault.value?.limit ?? ''),
    severity: fault.severity === null ? '' : SEVERITY_WORDS[fault.severity],
    severity_from:
      fault.severity === null || fault.severityBy === undefined
        ? ''
        : SEVERITY_FROM[fault.severityBy],
    hours: squawk.hours === null ? '' : String(squawk.hours),
    jasc: squawk.jasc ?? '',
    deferral: [overdue, deferralText(squawk)].filter((t) => t !== null).join(' '),
    narrative: narrativeOf(squawk, catalogue),
    reviewed: (reviews?.get(squawk.id) ?? []).map(reviewWords).join(' '),
    history: lifeLines(squawk).join('; '),
    rectified_by: work?.by ?? '',
    certificate: work?.certificate ?? '',
    certificate_kind: work?.certificateKind ?? '',
    work_reference: work?.reference ?? '',
    rectified_on: work?.date ?? '',
  };
}

/** Without it spreadsheets take the file for another character set. */
export const BYTE_ORDER_MARK = '\uFEFF';

/**
 * CSV by RFC 4180 with a byte order mark. Cells that a spreadsheet would take for a formula are
 * neutralised with a leading apostrophe.
 */
export function discrepancyCsv(list: Discrepancies): string {
  const data = list.squawks.map((s) => rowOf(s, list));
  const rows = Papa.unparse(
    { fields: [...COLUMNS], data },
    { escapeFormulae: FORMULA, newline: '\r\n' },
  );
  return `${BYTE_ORDER_MARK}${rows}`;
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
      ...((list.guessed ?? null) === null ? {} : { guessed: list.guessed }),
      discrepancies: list.squawks.map((squawk) => ({
        title: squawkTitle(squawk.fault, list.catalogue),
        ...rowOf(squawk, list),
        pictures: list.pictures?.get(squawk.id) ?? [],
        record: squawk,
      })),
    },
    null,
    2,
  );
}
