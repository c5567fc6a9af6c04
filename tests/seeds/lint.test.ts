import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { lint, parseDictionary } from '#grammar';
import { CATALOGUES } from '#seeds';
import { grammarOf } from './play.ts';

const pronunciations = parseDictionary(
  readFileSync('node_modules/soundswallower/model/en-us/dict.txt', 'utf8'),
);

test.each(CATALOGUES.map((c) => [c.name]))(
  'by ear, no name in %s steals a sentence of another',
  (name) => {
    const problems = lint(grammarOf(name).catalogue, pronunciations);
    expect(problems.map((p) => p.text)).toEqual([]);
  },
  120_000,
);
