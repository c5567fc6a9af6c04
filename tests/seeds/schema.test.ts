import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { CATALOGUES } from '#seeds';
import { schemaText } from '../../seeds/write-schema.ts';

test('the committed JSON Schema is what the contract says (else: node tests/load.mjs seeds/write-schema.ts)', async () => {
  expect(readFileSync('seeds/catalogue.schema.json', 'utf8')).toBe(await schemaText());
});

test('each catalogue begins with the line that lets an editor complete and check it', () => {
  for (const { text } of CATALOGUES) {
    expect(text).toMatch(/^# yaml-language-server: \$schema=\.\.\/catalogue\.schema\.json\n/);
  }
});
