import Papa from 'papaparse';
import { describe, expect, test } from 'vitest';
import { decodeText } from '#capture';
import { dayIn, discrepancyCsv, readAnswers } from '#report';
import type { Squawk } from '#shared/squawk';
import { FAULT, squawk, WORK } from './squawk.ts';

/*
 * CSV → spreadsheet → CSV: the list that was given out, opened, filled in and saved
 * by spreadsheets of several countries and makers. The dialects are made here as such
 * programs are known to write them: from memory, no source; no program wrote these files.
 */

const ASKED = squawk({ fault: { ...FAULT, words: 'Querruder schleift, »é« — ½' } });
const NOW = Date.parse('2026-02-10T12:00:00Z');
const HOW = { now: NOW, order: null };
const NAME = 'Jürgen Öztürk';

function rowsWith(cells: Readonly<Record<string, string>>) {
  const given = discrepancyCsv({ aircraft: 'X-1', squawks: [ASKED], catalogue: null, at: NOW });
  const { fields, data } = tableOf(given);
  const answered = {
    rectified_by: NAME,
    certificate: '17',
    certificate_kind: 'mechanic',
    work_reference: 'W 1',
    ...cells,
  };
  return { fields: [...fields], data: data.map((row) => ({ ...row, ...answered })) };
}

const WINDOWS_1252: Readonly<Record<string, number>> = {
  '—': 0x97,
  '–': 0x96,
  '…': 0x85,
  '“': 0x93,
  '”': 0x94,
  '‘': 0x91,
  '’': 0x92,
};
const ansi = (text: string) =>
  new Uint8Array([...text].map((c) => WINDOWS_1252[c] ?? c.charCodeAt(0)));
const utf8 = (text: string) => new TextEncoder().encode(text);
const utf16 = (text: string) => {
  const units = new Uint16Array([0xfeff, ...[...text].map((c) => c.charCodeAt(0))]);
  return new Uint8Array(units.buffer);
};

interface Table {
  readonly fields: readonly string[];
  readonly data: readonly Readonly<Record<string, string>>[];
}

/** A list as such a program saves it, with its own way to write the day of the work. */
type Saved = (table: Table) => Uint8Array;

const saved =
  (date: string, how: Papa.UnparseConfig, coded: (text: string) => Uint8Array): Saved =>
  ({ fields, data }) => {
    const dated = data.map((row) => ({ ...row, rectified_on: date }));
    const table = { fields: [...fields], data: dated };
    return coded(Papa.unparse(table, { newline: '\r\n', ...how }));
  };

const csv = (date: string, how: Papa.UnparseConfig = {}) =>
  Papa.unparse(rowsWith({ rectified_on: date }), { newline: '\r\n', ...how });

const marked = (text: string) => utf8(`\uFEFF${text}`);

const DIALECTS: readonly (readonly [string, Saved])[] = [
  ['as it was given out: UTF-8, commas, ISO dates', saved('2026-01-31', {}, marked)],
  ['American: month first with strokes', saved('1/31/2026', {}, utf8)],
  ['British: day first with strokes', saved('31/01/2026', {}, marked)],
  ['German: semicolons, Windows-1252, dots', saved('31.01.2026', { delimiter: ';' }, ansi)],
  [
    'with a line that says sep=;',
    saved('31.1.26', { delimiter: ';' }, (text) => utf8(`sep=;\r\n${text}`)),
  ],
  ['"Unicode text": UTF-16, tabs', saved('31-Jan-2026', { delimiter: '\t' }, utf16)],
  [
    'everything quoted, bare line feeds',
    saved('2026/01/31', { quotes: true, newline: '\n' }, utf8),
  ],
  ['a time behind the date, old line ends', saved('31.01.2026 00:00:00', { newline: '\r' }, utf8)],
];

function answersIn(bytes: Uint8Array, known: readonly Squawk[]) {
  const decoded = decodeText(bytes, 'a.csv');
  if (!decoded.ok) throw new Error(decoded.error);
  const read = readAnswers(decoded.text, 'a.csv', known, HOW);
  if (!read.ok) throw new Error(read.error);
  return read;
}

function tableOf(given: string): Table {
  const { data, meta } = Papa.parse<Record<string, string>>(given.slice(1), {
    header: true,
    skipEmptyLines: true,
  });
  return { fields: meta.fields ?? [], data };
}

test.each(DIALECTS)('%s: comes back as the one step, letter by letter', (_, save) => {
  const read = answersIn(save(rowsWith({})), [ASKED]);
  expect(read.steps).toEqual([
    { aircraft: 'X-1', squawk: 's1', step: { ...WORK, by: NAME, date: '2026-01-31' } },
  ]);
  expect([read.doubted, read.notes]).toEqual([[], []]);
});

test.each(DIALECTS)(
  '%s: given out again it says the answer, and is known when it comes back',
  (_, save) => {
    const [first] = answersIn(save(rowsWith({})), [ASKED]).steps;
    if (first === undefined) throw new Error('no step');
    const answered = squawk({ fault: ASKED.fault, state: 'rectified' }, [first.step]);
    const list = { aircraft: 'X-1', squawks: [answered], catalogue: null, at: NOW };
    const again = tableOf(discrepancyCsv(list));
    expect(again.data).toHaveLength(1);
    expect(again.data[0]).toMatchObject({
      squawk: 's1',
      state: 'rectified',
      rectified_by: NAME,
      certificate: '17',
      certificate_kind: 'mechanic',
      work_reference: 'W 1',
      rectified_on: '2026-01-31',
    });
    // Every letter of what was reported is still there.
    expect(again.data[0]?.['narrative']).toContain(ASKED.fault.words);
    const back = answersIn(save(again), [answered]);
    expect([back.steps, back.doubted, back.notes]).toEqual([[], [], []]);
    expect(back.text).toContain('One answer was known already.');
  },
);

test('Windows-1252 is recognised, and said', () => {
  expect(decodeText(ansi('Öl'), 'a.csv')).toMatchObject({
    text: 'Öl',
    note: expect.stringContaining('Windows-1252') as string,
  });
});

describe('a date that may be two days is asked about, never guessed', () => {
  const read = (order: 'day-first' | 'month-first' | null) =>
    readAnswers(csv('02/01/2026'), 'a.csv', [squawk({ opened: 0 })], { now: NOW, order });
  test('nothing is taken before its writer is asked', () => {
    expect(read(null)).toMatchObject({
      ok: false,
      asks: { written: '02/01/2026', dayFirst: '2026-01-02', monthFirst: '2026-02-01' },
    });
  });
  test.each([
    ['day-first', '2026-01-02'],
    ['month-first', '2026-02-01'],
  ] as const)('answered: %s', (order, date) => {
    expect(read(order)).toMatchObject({ ok: true, steps: [{ step: { date } }] });
  });

  test.each([
    ['2026-01-31', '2026-01-31'],
    ['3.4.26', '2026-04-03'],
    ['05/05/2026', '2026-05-05'],
    ['13/04/2026', '2026-04-13'],
    ['04/13/2026', '2026-04-13'],
    ['31 January 2026', '2026-01-31'],
    ['Jan 31, 2026', '2026-01-31'],
    ['31. Dez. 2025', '2025-12-31'],
    ['03/04/2026', 'either'],
    ['3-4-2026', 'either'],
    ['31.02.2026', 'none'],
    ['46053', 'none'],
    ['yesterday', 'none'],
  ])('%s is %s', (text, day) => {
    const found = dayIn(text, null);
    expect(found.kind === 'day' ? found.day : found.kind).toBe(day);
  });
});

describe('what may be a slip is questioned, and what is there is not lost', () => {
  test.each([
    ['2026-03-01', 'lies in the future'],
    ['2026-01-01', 'reported on 2026-01-05, after that'],
  ])('rectified on %s: %s', (date, why) => {
    const read = readAnswers(csv(date), 'a.csv', [ASKED], HOW);
    expect(read).toMatchObject({
      ok: true,
      steps: [],
      doubted: [{ why: expect.stringContaining(why) as string, steps: [{ step: { date } }] }],
    });
  });

  test('an answer given twice says so', () => {
    const once = readAnswers(csv('2026-01-31'), 'a.csv', [ASKED], HOW);
    if (!once.ok) throw new Error(once.error);
    const answered = squawk(
      { fault: ASKED.fault },
      once.steps.map((s) => s.step),
    );
    expect(readAnswers(csv('31.01.2026'), 'a.csv', [answered], HOW)).toMatchObject({
      ok: true,
      steps: [],
      text: '0 answers taken from a.csv. One answer was known already.',
    });
  });

  test('a column of the mechanic’s own is added to the squawk in its words, once', () => {
    const { fields, data } = rowsWith({
      rectified_on: '2026-01-31',
      Remarks: 'new tyre, serial 9',
    });
    const text = Papa.unparse({ fields: [...fields, 'Remarks'], data });
    const read = readAnswers(text, 'a.csv', [ASKED], HOW);
    if (!read.ok) throw new Error(read.error);
    expect(read.notes).toMatchObject([
      { step: { step: 'noted', by: NAME, note: 'remarks: new tyre, serial 9' } },
    ]);
    const known = squawk(
      {},
      [...read.steps, ...read.notes].map((s) => s.step),
    );
    expect(readAnswers(text, 'a.csv', [known], HOW)).toMatchObject({ steps: [], notes: [] });
  });

  test('a line is called by its number in the file, also below sep=', () => {
    const text = `sep=;\r\n${csv('soon', { delimiter: ';' })}`;
    expect(readAnswers(text, 'a.csv', [ASKED], HOW)).toMatchObject({
      ok: false,
      error: 'Nothing was taken from a.csv. Left out: line 3: "soon" is no day as 2026-01-31.',
    });
  });
});
