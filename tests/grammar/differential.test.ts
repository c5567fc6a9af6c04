import { describe, expect, test } from 'vitest';
import { createGrammar } from '#grammar';
import { fold } from '#reconcile';
import { Catalogue } from '#shared/catalogue';
import { FIRST_SCENE } from '#shared/scene';
import { measuredWords } from '#shared/told';
import * as n from '../reconcile/notation.ts';
import { testWeights } from '../weights.ts';
import { heard, pronunciations } from './fixtures/catalogue.ts';
import { summary } from './summary.ts';

/* Issue 16: "seventy six over eighty", the differential test of a cylinder (common practice, no source). */

const compression = {
  id: 'compression',
  name: 'cylinder compression',
  say: ['compression', 'compressions'],
  acts: ['measure'],
  repeat: 4,
  measures: [{ id: 'leak', name: 'pressure', unit: '[psi]', low: 72, severity: 'ground' }],
};
const battery = {
  id: 'battery',
  name: 'battery',
  acts: ['measure'],
  measures: [{ id: 'volts', name: 'voltage', unit: 'V', low: 12, severity: 'ground' }],
};
const catalogue = Catalogue.parse({
  v: 1,
  id: 'engine',
  name: 'Engine',
  kind: 'aeroplane',
  stations: [
    { id: 'engine', name: 'Engine', place: { x: 50, y: 20 }, checks: [compression, battery] },
  ],
});
const grammar = createGrammar(catalogue, {
  pronunciations: pronunciations(),
  weights: testWeights(),
});
const read = (words: string) => grammar.read(heard(words, 'h'), FIRST_SCENE).statements;
const told = (words: string) => read(words).map(summary).join('\n');
const valuesIn = (words: string) =>
  read(words).flatMap((s) => (s.kind === 'observation' ? s.values : []));

describe('16: the second figure is what the first is out of, and no value', () => {
  test.each([
    ['compression seventy six over eighty', 'compression[all] · leak = 76 [psi]'],
    ['compression 76/80', 'compression[all] · leak = 76 [psi]'],
    ['compression is good, seventy six over eighty', 'compression[all] · leak = 76 [psi]'],
    ['number two cylinder compression sixty over eighty', 'compression[2] · leak = 60 [psi]'],
    ['number two cylinder compression five over eighty', 'compression[2] · leak = 5 [psi]'],
    ['number two cylinder compression sixty over eighty psi', 'compression[2] · leak = 60 [psi]'],
  ])('%s', (words, expected) => {
    const doubt = ' · doubtful: it was said with a doubt';
    expect(told(words).replace(doubt, '')).toBe(expected);
    for (const v of valuesIn(words)) {
      expect(v).toMatchObject({ unit: '[psi]', trouble: null });
      expect(v.supplied === true).toBe(!words.endsWith('psi'));
    }
  });

  test('R8 what it was out of never stands for what a cylinder holds', () => {
    for (const words of ['compression sixty over eighty psi', 'compression sixty over 80 psi'])
      expect(valuesIn(words).map((v) => v.low)).toEqual([60]);
  });
});

describe('16: several in a row, each of its own cylinder, and the unit is marked as supplied', () => {
  test.each([
    'compressions seventy six over eighty, seventy four over eighty, seventy five over eighty',
    'compressions seventy six over eighty seventy four over eighty seventy five over eighty',
    'compressions 76/80, 74/80, 75/80',
    'compression seventy six over eighty, seventy four, and seventy five',
    'compression seventy six over eighty seventy four seventy five',
  ])('%s', (words) => {
    const statements = read(words);
    const coverage = fold(catalogue, n.walk(n.begun(), ...statements));
    const check = coverage.checks.find((c) => c.check === 'compression');
    const asked = catalogue.stations[0]?.checks[0];
    expect(check && measuredWords(check, asked)).toBe('76 psi at 1, 74 psi at 2, 75 psi at 3');
    expect(check?.missing.instances).toEqual(['4']);
    for (const v of valuesIn(words)) expect(v.supplied).toBe(true);
  });
});

describe('16: of anything else said with "over" nothing is concluded', () => {
  test.each([
    ['what is measured in volts', 'battery twelve over eighty', [12, 80]],
    ['more than was put in', 'compression eighty over seventy six', [80, 76]],
    ['another pressure put in', 'compression seventy six over eighty five', [76, 85]],
    ['another unit', 'compression seven over eighty bar', [7, 80]],
    ['the number of a place', 'compression of cylinder two over eighty psi', [2, 80]],
    ['a figure by itself', 'compression seventy six', [76]],
  ])('%s', (_, words, figures) => {
    const values = valuesIn(words);
    expect(values.map((v) => v.low)).toEqual(figures);
    for (const v of values) expect(v.unit === '[psi]' && v.supplied === true).toBe(false);
  });
});
