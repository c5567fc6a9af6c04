import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { DISCREPANCY_NOTICE, discrepancyCsv, discrepancyPdf } from '#report';
import type { Squawk } from '#shared/squawk';
import { lifeLines } from '#shared/steps';
import { testLetters } from '../letters.ts';
import { FAULT, squawk, WORK } from './squawk.ts';

/** Text of a PDF as poppler's pdftotext reads it; null where there is no poppler. */
function textOf(pdf: Uint8Array): string | null {
  const folder = mkdtempSync(join(process.env['SQUAWK_PDF'] ?? tmpdir(), 'talkround-pdf-'));
  try {
    writeFileSync(join(folder, 'a.pdf'), pdf);
    return execFileSync('pdftotext', ['-layout', join(folder, 'a.pdf'), '-'], { encoding: 'utf8' });
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return null;
    throw error;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const SQUAWKS: readonly Squawk[] = [
  squawk(),
  squawk({ id: 's2', state: 'rectified', fault: { ...FAULT, side: 'right' } }, [WORK]),
  squawk({ id: 's3', state: 'deferred', fault: { ...FAULT, words: 'and so on '.repeat(500) } }, [
    {
      step: 'deferred',
      by: 'B. Ash',
      authority: 'list 4',
      untilDate: '2026-01-20',
      untilHours: null,
      untilFlights: null,
      placarded: true,
      note: null,
    },
  ]),
];

test('16: what became of a squawk after its report is told a line each, its last work by itself', () => {
  const noted = { step: 'noted', by: 'B. Ash', note: 'remarks: new tube' } as const;
  const told = squawk({}, [
    { ...WORK, reference: 'W 0' },
    WORK,
    noted,
    { step: 'rechecked', by: 'A. Pilot', statement: null, outcome: 'gone' },
    { step: 'closed', by: 'A. Pilot', note: null },
  ]);
  expect(lifeLines(told)).toEqual([
    '1970-01-01: Rectified by B. Ash, mechanic 17, W 0, 2026-01-31',
    '1970-01-01: Added by B. Ash: remarks: new tube',
    '1970-01-01: Rechecked by A. Pilot: gone',
    '1970-01-01: Closed by A. Pilot',
  ]);
  const list = { aircraft: 'X-1', squawks: [told], catalogue: null, at: 0 };
  expect(discrepancyCsv(list)).toContain('Added by B. Ash: remarks: new tube');
});

test.each(['a4', 'letter'] as const)(
  'the list of discrepancies on %s can be read without the app',
  async (size) => {
    const pdf = await discrepancyPdf(
      {
        aircraft: 'X-1',
        squawks: SQUAWKS,
        catalogue: null,
        at: Date.parse('2026-02-01T00:00:00Z'),
        overdue: new Map([['s3', 'The deferral ran out on 2026-01-20.']]),
        guessed: 'X-1 was never walked on this device.',
      },
      { size, letters: testLetters() },
    );
    expect(new TextDecoder().decode(pdf.slice(0, 5))).toBe('%PDF-');
    const text = textOf(pdf);
    // Without poppler the file is at least a PDF of some size; with it every line is held.
    if (text === null) return expect(pdf.length).toBeGreaterThan(2000);
    const flat = text.replace(/\s+/g, ' ');
    for (const told of [
      'Discrepancies of X-1',
      'Dated 2026-02-01; 3 in all.',
      DISCREPANCY_NOTICE,
      'X-1 was never walked on this device.',
      'Left tyre: flat spot',
      'Right tyre: flat spot',
      'Reported 2026-01-05 by A. Pilot.',
      'Rectified by B. Ash, mechanic 17, work reference W 1, 2026-01-31.',
      'The deferral ran out on 2026-01-20.',
      'Deferred by B. Ash on the authority of list 4, until 2026-01-20; placarded.',
      'Rectified by, certificate number and kind, work reference, date',
    ]) {
      expect(flat).toContain(told);
    }
    expect(flat).not.toMatch(/airworth/i);
  },
);

test('no page begins with the line to write on of a squawk that stands on the page before', async () => {
  for (let count = 1; count < 12; count += 1) {
    const squawks = Array.from({ length: count }, (_, i) => squawk({ id: `s${i}` }));
    const list = { aircraft: 'X-1', squawks, catalogue: null, at: 0 };
    const text = textOf(await discrepancyPdf(list, { size: 'letter', letters: testLetters() }));
    for (const page of (text ?? '').split('\f').slice(1)) {
      const lines = page.split('\n').filter((l) => l.trim() !== '');
      expect(lines[1] ?? '').not.toMatch(/^\s*Rectified by, certificate/);
    }
  }
});
