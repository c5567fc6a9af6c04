import { describe, expect, test } from 'vitest';
import { freeFault } from '#record';
import { discrepancyCsv, discrepancyJson, discrepancyPdf, narrativeOf, squawkTitle } from '#report';
import type { Fault } from '#shared/squawk';
import { testLetters } from '../letters.ts';
import { pagesOf } from './pdf-text.ts';
import { squawk } from './squawk.ts';

/*
 * Faults of parts that no catalogue names: the words as said are the report (R4),
 * and what could be told of them stands before.
 */

/** A fault in free words, with the condition at these words of them. */
function free(words: string, at: readonly [from: number, to: number] | null): Fault {
  const said = words.split(' ').slice(...(at ?? [0, 0]));
  const states = at === null ? [] : [{ condition: said.join('-'), from: at[0], to: at[1] }];
  return freeFault(words, states, null);
}

const CASES: readonly [said: string, at: readonly [number, number] | null, title: string][] = [
  ['ash tray hinge cracked', [3, 4], 'Ash tray hinge: cracked'],
  ['left reading lamp loose', [2 + 1, 4], 'Left reading lamp: loose'],
  ['smells of burning in the back', null, 'Smells: “smells of burning in the back”'],
  ['it does that again', null, 'It does that again: “it does that again”'],
  ['=HYPERLINK("x") placard torn', [2, 3], '=hyperlink("x") placard: torn'],
];

describe.each(CASES)('“%s”', (words, at, title) => {
  const one = squawk({ fault: free(words, at) });

  test('R4: the words as said stand in the narrative, the table, the file and on paper', async () => {
    expect(narrativeOf(one, null)).toContain(`As said: “${words}”.`);
    const list = {
      aircraft: 'X-1',
      squawks: [one],
      catalogue: null,
      at: Date.parse('2026-02-01T00:00:00Z'),
    };
    expect(discrepancyCsv(list)).toContain(words.replaceAll('"', '""'));
    const parsed: unknown = JSON.parse(discrepancyJson(list));
    expect(parsed).toMatchObject({ discrepancies: [{ record: { fault: { words } } }] });
    const paper = (
      await pagesOf(await discrepancyPdf(list, { size: 'a4', letters: testLetters() }))
    )
      .join(' ')
      .replace(/\s+/g, ' ');
    for (const word of words.split(' ')) expect(paper).toContain(word);
  });

  test('the title tells what could be told', () => {
    expect(squawkTitle(one.fault, null)).toBe(title);
  });
});

test('no part can be told: the words themselves are the title', () => {
  const one = squawk({ fault: { ...free('left', null), part: null } });
  expect(squawkTitle(one.fault, null)).toBe('Left');
  expect(narrativeOf(one, null)).toBe(
    'Found: pre-flight walk. Reported 2026-01-05 by A. Pilot. Aircraft time in service: 120.5 h. As said: “left”.',
  );
});

test('words that a spreadsheet would take for a formula are none in the table', () => {
  const said = '=1+1 is written on the placard';
  const csv = discrepancyCsv({
    aircraft: 'X-1',
    squawks: [squawk({ fault: { ...free(said, null), part: null } })],
    catalogue: null,
    at: 0,
  });
  expect(csv).toContain(`'=1+1`);
  expect(csv).not.toMatch(/(^|,|")=1/m);
});
