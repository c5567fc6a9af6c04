import { PDFDocument } from 'pdf-lib';
import { describe, expect, test } from 'vitest';
import { discrepancyPdf } from '#report';
import { facesOf } from '../../src/report/letters.ts';
import { named, printable, seenRuns } from '../../src/report/pdf-words.ts';
import { testLetters } from '../letters.ts';
import { pagesOf, structureOf, type Tagged } from './pdf-text.ts';
import { squawk } from './squawk.ts';

/* Issue 16: a record on paper loses no letter of a name. */

const letters = testLetters();

async function paper(reporter: string): Promise<Uint8Array> {
  const squawks = [squawk({ reporter })];
  const list = { aircraft: 'X-1', squawks, catalogue: null, at: 0 };
  return discrepancyPdf(list, { size: 'a4', letters });
}

const flat = (text: string) => text.replace(/\s+/g, ' ');

describe('16: names stand on paper in their own letters, and can be searched for', () => {
  test.each([
    'Łukasz Żak',
    'Đặng Thị Hạnh',
    'Ελένη Παπαδάκη',
    'Юлия Щукина',
    'Անի',
    'ნინო',
    'Şükrü Iğdır',
    'O’Neill „Ash“ «x» ‹y› „z”',
    'ﬁt office affluent',
    '≥ 3 ≤ 4 → − × ½ °',
  ])('%s', async (name) => {
    const words = flat((await pagesOf(await paper(name))).join(' '));
    expect(words).toContain(`by ${printable(name)}.`);
    expect(words).not.toContain('U+');
  });

  test('letters and their accents that come apart are put together', async () => {
    const words = flat((await pagesOf(await paper('Z\u0307ak Ele\u0301ne'))).join(' '));
    expect(words).toContain('by Żak Eléne.');
  });
});

describe('16: what the font lacks is named by its number, and read aloud as it is', () => {
  const all = (tag: Tagged): Tagged[] => [
    tag,
    ...tag.children.flatMap((c) => ('kind' in c ? all(c) : [])),
  ];

  test.each([
    ['张三', '[U+5F20 U+4E09]'],
    ['Ann 张', 'Ann [U+5F20]'],
    ['แอน', '[U+0E41 U+0E2D U+0E19]'],
    ['𒀀x', '[U+12000]x'],
  ])('%s', async (name, drawn) => {
    const pdf = await paper(name);
    expect(flat((await pagesOf(pdf)).join(' '))).toContain(`by ${drawn}.`);
    const tags = structureOf(await PDFDocument.load(pdf)).flatMap(all);
    expect(tags.some((t) => t.actual?.includes(`by ${name}.`))).toBe(true);
  });

  test('no letter is lost, and none is named that the font has', () => {
    const has = (letter: string) => /[a-z ]/.test(letter);
    expect(named('a ☃☃b☃', has)).toBe('a [U+2603 U+2603]b[U+2603]');
    expect(named('abc', has)).toBe('abc');
  });

  test('only what draws nothing is left out', () => {
    expect(printable('a\u200db\u2067c\u00ad\tx\n\u0007y\ufeff')).toBe('abc x y');
  });
});

describe('16: lines of two directions are seen in the order of Unicode Standard Annex 9', () => {
  // What is on the right is how it is seen from left to right, each run still as it is read.
  test.each([
    ['pilot שרה כהן, 12 h', ['pilot ', 'שרה כהן', ', 12 h']],
    ['שרה 12 כהן', ['כהן', '12', 'שרה'].join(' ')],
    ['a שרה; b כהן, 2026-09-14 06:42', ['a ', 'שרה', '; b ', 'כהן', ', 2026-09-14 06:42']],
    ['(שרה)', ['(', 'שרה', ')']],
    ['abc', ['abc']],
  ])('%s', (text, seen) => {
    const runs = seenRuns(text);
    if (typeof seen === 'string') expect(runs.map((r) => r.trim()).join(' ')).toBe(seen);
    else expect(runs).toEqual(seen);
    expect([...runs.join('')].sort()).toEqual([...text].sort());
  });
});

test('a line of several words is as wide as the words and blanks in it', async () => {
  const { plain } = await facesOf(await PDFDocument.create(), letters);
  for (const text of ['Fuel caps: spoken for', ' a  b ', '']) {
    expect(plain.wide(text, 10)).toBeCloseTo(plain.font.widthOfTextAtSize(text, 10), 6);
  }
});
