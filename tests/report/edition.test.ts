import { describe, expect, test } from 'vitest';
import { parseCatalogue } from '#catalogue';
import { fold } from '#reconcile';
import { debriefHtml, editionLines, pdfOf, sheetHtml, sheetText } from '#report';
import type { Catalogue } from '#shared/catalogue';
import { bent } from '../catalogue/small.ts';
import { testLetters } from '../letters.ts';
import { madeWalk } from '../screens/made.ts';
import { pagesOf } from './pdf-text.ts';

/* Issue 18: whoever holds a document knows by which edition it was counted, and where that comes from. */

function edition(version: number, licence: string): Catalogue {
  const text = bent(
    'kind: other\n',
    [
      'kind: other',
      'source: The printed list of 2025-11-03',
      `licence: ${licence}`,
      `version: ${version}`,
      'history:',
      '  - { version: 1, by: K. Rowan, on: "2026-01-05", why: From the printed list }',
      '  - { version: 2, by: B. Ash, on: "2026-02-07", why: New belts }',
      '',
    ].join('\n'),
  ).replace(
    'aspects: [condition, slack]',
    'aspects: [condition, slack]\n        source: Belt bulletin 7',
  );
  const parsed = parseCatalogue(text, 'a');
  if (!parsed.ok) throw new Error(parsed.problems[0]?.text);
  return parsed.catalogue;
}

const EDITIONS = [
  {
    catalogue: edition(1, 'CC BY 4.0'),
    says: 'version 1 of 2026-01-05 by K. Rowan',
    hash: 'a'.repeat(64),
  },
  {
    catalogue: edition(2, 'CC0 1.0'),
    says: 'version 2 of 2026-02-07 by B. Ash',
    hash: 'b'.repeat(64),
  },
];
const flat = (s: string) => s.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');

describe.each(EDITIONS)('issue 18: a walk by $says', ({ catalogue, says, hash }) => {
  const events = madeWalk(catalogue, 'w', {}).map((e) =>
    e.what.kind === 'walk-begun' ? { ...e, what: { ...e.what, edition: hash } } : e,
  );
  const coverage = fold(catalogue, events);
  const head = { aircraft: 'Rowan 2', pilot: null, instructor: null, begun: 0, hours: null };
  const parts = { coverage, catalogue, size: 'a4' as const, head, events };
  const told = [
    `Catalogue: Small aircraft, ${says} (edition ${hash.slice(0, 12)}).`,
    'Source: The printed list of 2025-11-03.',
    'Sources of single checks: Belt bulletin 7.',
    `Licence: ${catalogue.licence ?? ''}.`,
  ];

  test('in the words of every document', async () => {
    expect(editionLines(catalogue, hash)).toEqual(told);
    const documents: Readonly<Record<string, string>> = {
      text: sheetText(coverage, catalogue, { why: false }),
      html: sheetHtml(parts),
      debrief: await debriefHtml(parts),
      ...Object.fromEntries(
        await Promise.all(
          (['sheet', 'form', 'debrief'] as const).map(async (kind) => {
            const pages = await pagesOf(await pdfOf(kind, parts, testLetters()));
            return [`${kind}-pdf`, pages.join(' ')] as const;
          }),
        ),
      ),
    };
    for (const [name, text] of Object.entries(documents))
      for (const line of told) expect(flat(text), name).toContain(line);
  });

  test('a check names its own source where every reason is told', () => {
    expect(sheetText(coverage, catalogue, { why: true })).toMatch(
      /Drive belts: .*\n(?: {6}.*\n)*? {6}source: Belt bulletin 7\.\n/,
    );
  });
});

test('issue 18: a catalogue that says nothing of itself: its edition alone, and no empty line', () => {
  const parsed = parseCatalogue(bent('kind: other', 'kind: other'), 'a');
  if (!parsed.ok) throw new Error('unread');
  expect(editionLines(parsed.catalogue, null)).toEqual([
    'Catalogue: Small aircraft (edition unknown).',
  ]);
});
