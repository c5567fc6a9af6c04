import fc from 'fast-check';
import Papa from 'papaparse';
import { expect, test } from 'vitest';
import { COLUMNS, discrepancyCsv, discrepancyJson, readAnswers } from '#report';
import type { Squawk } from '#shared/squawk';
import { FAULT, squawk, WORK } from './squawk.ts';

const AT = Date.parse('2026-02-01T00:00:00Z');
const listOf = (squawks: readonly Squawk[]) =>
  discrepancyCsv({ aircraft: 'X-1', squawks, catalogue: null, at: AT });
const ANSWERED = {
  rectified_by: 'B. Ash',
  certificate: '17',
  certificate_kind: 'mechanic',
  work_reference: 'W 1',
  rectified_on: '2026-01-31',
};

/** The list as given out, with the cells of its rows filled in. */
function filled(
  squawks: readonly Squawk[],
  ...cells: readonly Readonly<Record<string, string>>[]
): string {
  const { data, meta } = Papa.parse<Record<string, string>>(listOf(squawks).slice(1), {
    header: true,
    skipEmptyLines: true,
  });
  return Papa.unparse({
    fields: meta.fields ?? [],
    data: data.map((row, i) => ({ ...row, ...cells[i] })),
  });
}

test('what was given out and filled in comes back as the step, whatever stands before it', () => {
  const csv = filled([squawk()], ANSWERED);
  const taken = [{ aircraft: 'X-1', squawk: 's1', step: WORK }];
  for (const text of [csv, `\uFEFF${csv}`, csv.replace(/\r\n/g, '\n'), `${csv}\r\n\r\n`]) {
    expect(readAnswers(text, 'a.csv', [squawk()])).toEqual({
      ok: true,
      steps: taken,
      notes: [],
      doubted: [],
      text: '1 answer taken from a.csv.',
    });
  }
});

test('columns in another order, others beside them, and semicolons instead of commas', () => {
  const csv = filled([squawk()], ANSWERED);
  const { data } = Papa.parse<Record<string, string>>(csv, { header: true });
  const fields = ['hangar', ...[...COLUMNS].reverse()];
  for (const delimiter of [',', ';', '\t']) {
    const text = Papa.unparse({ fields, data: [{ ...data[0], hangar: '2' }] }, { delimiter });
    const read = readAnswers(text, 'a.csv', [squawk()]);
    expect(read.ok && read.steps.map((s) => s.step)).toEqual([WORK]);
  }
});

test.each([
  ['', 'no column "squawk"'],
  ['name,price\nbolt,3\n', 'no column "squawk", "rectified_by"'],
  [
    'squawk,rectified_by,certificate,certificate_kind,work_reference,rectified_on,squawk\n',
    'the column "squawk" twice',
  ],
])('another table %j: one sentence and nothing taken', (text, says) => {
  const read = readAnswers(text, 'a.csv', [squawk()]);
  expect(read).toMatchObject({ ok: false });
  expect(read.ok ? '' : read.error).toContain(says);
});

test.each([
  [{ rectified_on: '2026-02-31' }, '"2026-02-31" is no day'],
  [{ rectified_on: '31 January' }, '"31 January" is no day'],
  [{ rectified_on: '2026-01-3' }, '"2026-01-3" is no day'],
  [{ certificate: '' }, '"certificate" not filled in'],
  [{ squawk: 's9' }, 'there is no squawk "s9"'],
])('a row with %j is named by its line and left out', (cells, says) => {
  const read = readAnswers(filled([squawk()], { ...ANSWERED, ...cells }), 'a.csv', [squawk()]);
  expect(read.ok ? '' : read.error).toContain(`line 2: ${says}`);
});

test('the line that is named is the line of the file, blank lines and broken cells counted', () => {
  const long = squawk({ fault: { ...FAULT, words: 'one\ntwo\nthree' } });
  const other = squawk({ id: 's2' });
  const csv = filled([long, other], {}, { ...ANSWERED, certificate: '' });
  const line = csv.split(/\r\n|\n/).findIndex((l) => l.startsWith('s2')) + 1;
  expect(line).toBeGreaterThan(3);
  const read = readAnswers(csv, 'a.csv', [long, other]);
  expect(read.ok ? '' : read.error).toContain(`line ${line}: "certificate"`);
});

test('half a file, cut anywhere: what was whole is taken, nothing is taken from half a row', () => {
  const squawks = [squawk(), squawk({ id: 's2' })];
  const csv = filled(squawks, ANSWERED, ANSWERED);
  const second = csv.indexOf('s2,');
  for (let at = csv.indexOf('\n') + 1; at < csv.length; at += 1) {
    const read = readAnswers(csv.slice(0, at), 'a.csv', squawks);
    const steps = read.ok ? read.steps : [];
    expect(steps.length).toBeLessThanOrEqual(at >= second - 2 ? 1 : 0);
    for (const { step } of steps) expect(step).toEqual(WORK);
  }
  const cut = readAnswers(csv.slice(0, -30), 'a.csv', squawks);
  expect(cut.ok && cut.text).toContain('1 answer taken from a.csv. Left out: line 3');
});

test('the same answer twice, in one file or two, is one answer; two that differ are named', () => {
  const csv = filled([squawk()], ANSWERED);
  const row = csv.split('\r\n')[1] ?? '';
  const twice = readAnswers(`${csv}\r\n${row}`, 'a.csv', [squawk()]);
  expect(twice.ok && twice.steps).toHaveLength(1);
  const again = readAnswers(csv, 'a.csv', [squawk({ state: 'rectified' }, [WORK])]);
  expect(again).toMatchObject({ ok: true, steps: [] });
  const other = readAnswers(`${csv}\r\n${row.replace('W 1', 'W 2')}`, 'a.csv', [squawk()]);
  expect(other.ok && other.steps).toHaveLength(1);
  expect(other.ok && other.text).toContain('line 3: a second and different answer');
});

test('one work reference may rectify it again after it came back; the old answer does not', () => {
  const back = squawk({}, [
    WORK,
    { step: 'rechecked', by: 'A', statement: null, outcome: 'still-there' },
  ]);
  const again = readAnswers(filled([squawk()], { ...ANSWERED, rectified_on: '2026-02-03' }), 'a', [
    back,
  ]);
  expect(again.ok && again.steps).toHaveLength(1);
  expect(readAnswers(filled([squawk()], ANSWERED), 'a', [back])).toMatchObject({ steps: [] });
});

test('an answer to a squawk that is closed is named, not taken', () => {
  const read = readAnswers(filled([squawk()], ANSWERED), 'a', [squawk({ state: 'closed' })]);
  expect(read.ok ? '' : read.error).toContain('is closed already');
});

test('a row without an answer is left alone', () => {
  expect(readAnswers(listOf([squawk()]), 'a', [squawk()])).toMatchObject({ ok: true, steps: [] });
});

/** What spreadsheets take for a formula: OWASP, "CSV Injection". */
test.each([
  '=1+1',
  '+1',
  '-1',
  '@sum(a1)',
  '\t=1+1',
  '\r=1+1',
  // Issue 14.10: what follows may hold line breaks.
  '=1+1\nand more',
  '-1\r\nand more',
  '\n=1+1',
  ' =1+1',
  '＝1+1',
])('a cell that begins as the formula %j is neutralised', (text) => {
  const csv = listOf([squawk({ reporter: text, fault: { ...FAULT, position: text } })]);
  const { data } = Papa.parse<Record<string, string>>(csv.slice(1), { header: true });
  expect(data[0]?.['reporter']).toBe(`'${text}`);
  expect(data[0]?.['position']).toBe(`'${text}`);
});

test('14.10: no text whatever makes a formula, and none is lost (seed 20260106)', () => {
  const part = fc.constantFrom(
    '=',
    '+',
    '-',
    '@',
    '\t',
    '\r',
    '\n',
    ' ',
    "'",
    '"',
    ',',
    ';',
    'a',
    '\u00A0',
    '＝',
  );
  const text = fc.array(part, { minLength: 1, maxLength: 12 }).map((parts) => parts.join(''));
  fc.assert(
    fc.property(text, (reporter) => {
      const csv = listOf([squawk({ reporter })]);
      const { data } = Papa.parse<Record<string, string>>(csv.slice(1), {
        header: true,
        delimiter: ',',
        newline: '\r\n',
      });
      const cell = data[0]?.['reporter'] ?? '';
      expect(cell).not.toMatch(/^(\s*[=+\-@＝]|[\t\r\n])/);
      expect([reporter, `'${reporter}`]).toContain(cell);
    }),
    { seed: 20_260_106, numRuns: 2000 },
  );
});

test('our own apostrophe does not come back with the answer', () => {
  const csv = filled([squawk()], { ...ANSWERED, work_reference: "'-17", rectified_by: "'\t=B" });
  const read = readAnswers(csv, 'a', [squawk()]);
  expect(read.ok && read.steps[0]?.step).toMatchObject({ reference: '-17', by: '=B' });
});

test('CSV begins with a byte order mark, so that typographic quotes survive; rows end by RFC 4180', () => {
  const csv = listOf([squawk()]);
  expect(csv.startsWith('\uFEFFsquawk,')).toBe(true);
  expect(csv.split('\r\n')).toHaveLength(2);
});

test('JSON tells the same and carries the whole record', () => {
  const one = squawk({}, [WORK]);
  const told: unknown = JSON.parse(
    discrepancyJson({ aircraft: 'X-1', squawks: [one], catalogue: null, at: AT }),
  );
  expect(told).toMatchObject({
    kind: 'talkround-discrepancies',
    dated: '2026-02-01T00:00:00.000Z',
    discrepancies: [{ title: 'Left tyre: flat spot', record: one, severity: 'ground it' }],
  });
});

test('a deferral is in the list, with what has run out', () => {
  const deferred = squawk({ state: 'deferred' }, [
    {
      step: 'deferred',
      by: 'B. Ash',
      authority: 'list 4',
      untilDate: '2026-01-20',
      untilHours: 130,
      untilFlights: null,
      placarded: true,
      note: 'Day only.',
    },
  ]);
  const overdue = new Map([['s1', 'The deferral ran out on 2026-01-20.']]);
  const csv = discrepancyCsv({
    aircraft: 'X-1',
    squawks: [deferred],
    catalogue: null,
    at: AT,
    overdue,
  });
  expect(csv).toContain(
    'The deferral ran out on 2026-01-20. Deferred by B. Ash on the authority of list 4, until 2026-01-20 or 130 h; placarded. Day only.',
  );
});
