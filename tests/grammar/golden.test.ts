import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { createGrammar } from '#grammar';
import { FIRST_SCENE } from '#shared/scene';
import { FIXTURE, heard, pronunciations } from './fixtures/catalogue.ts';
import { summary } from './summary.ts';
import { testWeights } from '../weights.ts';

const grammar = createGrammar(FIXTURE, {
  pronunciations: pronunciations(),
  weights: testWeights(),
});

/** Reads a golden file: words, then "==>" and a line for each statement; "--" begins with a fresh scene. */
function cases(name: string): { words: string[]; expected: string[][] }[] {
  const text = readFileSync(fileURLToPath(new URL(`./cases/${name}`, import.meta.url)), 'utf8');
  return text
    .split('\n--\n')
    .slice(1)
    .map((block) => {
      const words: string[] = [];
      const expected: string[][] = [];
      for (const line of block.split('\n').filter((l) => l.trim() !== '')) {
        const arrow = /^\s+==> (.*)$/.exec(line);
        if (arrow === null) {
          words.push(line);
          expected.push([]);
        } else expected[expected.length - 1]?.push(arrow[1] ?? '');
      }
      return { words, expected };
    });
}

for (const file of ['hard.txt', 'misses.txt', 'doubt.txt', 'echo.txt', 'plain.txt', 'words.txt']) {
  for (const { words, expected } of cases(file)) {
    test(`${file}: ${words.join(' / ')}`, () => {
      let scene = FIRST_SCENE;
      words.forEach((line, i) => {
        const reading = grammar.read(heard(line, 'h'), scene);
        scene = reading.scene;
        expect(reading.statements.map(summary)).toEqual(expected[i]);
      });
    });
  }
}

const explained = readFileSync(
  fileURLToPath(new URL('./cases/explained.txt', import.meta.url)),
  'utf8',
)
  .split('\n--\n')
  .slice(1)
  .map((block) => block.trimEnd().split('\n'))
  .map(([line = '', ...told]) => ({ line, told: told.map((l) => l.replace(/^ {2}\| /, '')) }));

test('at least twenty hard sentences are kept with their explanation', () => {
  expect(explained.length).toBeGreaterThanOrEqual(20);
});

for (const { line, told } of explained) {
  test(`explained: ${line}`, () => {
    expect(grammar.explain(heard(line, 'h'), FIRST_SCENE).split('\n')).toEqual(told);
  });
}

test('twenty hard sentences explain themselves: what it means and at least one reason each', () => {
  const hard = cases('hard.txt').flatMap((c) => c.words);
  expect(hard.length).toBeGreaterThanOrEqual(20);
  for (const line of hard) {
    const told = grammar.explain(heard(line, 'h'), FIRST_SCENE);
    expect(told).toContain('means: ');
    expect(told).toContain('because ');
  }
});
