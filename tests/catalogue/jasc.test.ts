import { existsSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { JASC, jascName } from '#catalogue';

test('the JASC table has its 51 chapters and 547 codes, each under its chapter', () => {
  const codes = [...JASC.keys()];
  expect(codes.filter((code) => /^\d{2}$/.test(code))).toHaveLength(51);
  expect(codes.filter((code) => /^\d{4}$/.test(code))).toHaveLength(547);
  for (const code of codes) expect(JASC.has(code.slice(0, 2))).toBe(true);
  expect(jascName('6410')).toBe('TAIL ROTOR BLADES');
  expect(jascName('0000')).toBeNull();
});

const TABLE = '../shared/standards/jasc-2008.tsv';
test('FAA JASC table of 27 October 2008: the same codes and names', ({ skip }) => {
  skip(!existsSync(TABLE), 'the transcription is not here, skipped');
  const rows = readFileSync(TABLE, 'utf8').trim().split('\n').slice(1);
  // The transcription breaks three words that this table joins again.
  const joined = (name: string): string => name.replace(/\b(PORT|POT|ST) (ABLE|ART)\b/, '$1$2');
  expect([...JASC].map(([code, name]) => `${code}\t${name}`)).toEqual(rows.map(joined));
});
