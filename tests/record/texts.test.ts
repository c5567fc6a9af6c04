import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';

test.each(['src/record', 'src/reconcile'])('R9 no text in %s speaks of airworthiness', (folder) => {
  const files = readdirSync(folder);
  expect(files.length).toBeGreaterThan(5);
  for (const file of files) {
    const strings = readFileSync(`${folder}/${file}`, 'utf8').match(/(['"`])(?:(?!\1).)*\1/g) ?? [];
    expect(strings.filter((s) => /airworth/i.test(s))).toEqual([]);
  }
});
