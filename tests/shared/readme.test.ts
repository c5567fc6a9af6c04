import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { Act } from '#shared/catalogue';
import { Rule, STANDING_WORDS } from '#shared/coverage';
import { SEVERITY_WORDS } from '#shared/severity';
import { Force } from '#shared/statement';

const README = readFileSync('shared/README.md', 'utf8');

test('the README of the contracts has the eleven rules, in order', () => {
  expect([...README.matchAll(/^\d+\. \*\*(R\d+)\*\* /gm)].map((m) => m[1])).toEqual(Rule.options);
});

test('the words of the README are the words of the contracts', () => {
  const words = [
    ...Act.options,
    ...Force.options,
    ...Object.values(SEVERITY_WORDS),
    ...Object.values(STANDING_WORDS),
  ];
  for (const word of words) expect(README).toContain(word);
});

test('each of the eleven rules is quoted in the name of a test that holds it', () => {
  const tests = readdirSync('tests', { recursive: true, encoding: 'utf8' })
    .filter((file) => /\.test\.tsx?$/.test(file))
    .map((file) => readFileSync(`tests/${file}`, 'utf8'))
    .join('\n');
  // A name is the text after test( or describe(, or the first column of a table.
  const quoted = new Set([...tests.matchAll(/['"`][^'"`\n]*?\b(R\d+)\b/g)].map((m) => m[1]));
  expect(Rule.options.filter((rule) => !quoted.has(rule))).toEqual([]);
});
