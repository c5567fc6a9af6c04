import Papa from 'papaparse';
import { reviewWords, STANDING_WORDS } from '#shared/coverage';
import { BYTE_ORDER_MARK } from './discrepancies.ts';
import { FORMULA } from './formula.ts';
import type { SheetParts } from './sheet-pdf.ts';
import { checkNames, missingText } from './sheet-text.ts';
import { measuredWords, quotedWords, toldIn } from '#shared/told';

/** A row a check, in walking order. */
const COLUMNS = [
  'aircraft',
  'date',
  'pilot',
  'instructor',
  'station',
  'check',
  'required_today',
  'standing',
  'missing',
  'measured',
  'explained',
  'done',
  'reported',
  'explained_words',
  'done_words',
  'reported_words',
  'reviewed',
] as const;

/** The sheet as CSV by RFC 4180, with a byte order mark, cells neutralised against formulas. */
export function sheetCsv({ coverage, catalogue, head }: SheetParts): string {
  const names = checkNames(catalogue);
  const stations = new Map(catalogue.stations.map((s) => [s.id, s.name]));
  const yes = (holds: boolean) => (holds ? 'yes' : 'no');
  const data = coverage.checks.map((c): Record<(typeof COLUMNS)[number], string> => {
    const { explained, done, reported } = toldIn(c);
    const check = names.checks.get(c.check);
    return {
      aircraft: head.aircraft,
      date: new Date(head.begun).toISOString().slice(0, 10),
      pilot: head.pilot ?? '',
      instructor: head.instructor ?? '',
      station: stations.get(c.station) ?? c.station,
      check: check?.name ?? c.check,
      required_today: yes(c.required.today),
      standing: STANDING_WORDS[c.standing],
      missing: missingText(c, check),
      measured: measuredWords(c, check) ?? '',
      explained: yes(explained.length > 0),
      done: yes(done.length > 0),
      reported: yes(reported.length > 0),
      explained_words: quotedWords(explained),
      done_words: quotedWords(done),
      reported_words: quotedWords(reported),
      reviewed: (c.reviews ?? []).map(reviewWords).join(' '),
    };
  });
  const rows = Papa.unparse(
    { fields: [...COLUMNS], data },
    { escapeFormulae: FORMULA, newline: '\r\n' },
  );
  return `${BYTE_ORDER_MARK}${rows}`;
}
