import { readFileSync } from 'node:fs';
import { Ajv } from 'ajv';
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { CATALOGUES } from '#seeds';
import { schemaText } from '../../seeds/write-schema.ts';
import { bent, SMALL } from '../catalogue/small.ts';

const COMMITTED = readFileSync('seeds/catalogue.schema.json', 'utf8');

test('the committed JSON Schema is what the contract says (else: node tests/load.mjs seeds/write-schema.ts)', async () => {
  expect(COMMITTED).toBe(await schemaText());
});

test('each catalogue begins with the line that lets an editor complete and check it', () => {
  for (const { text } of CATALOGUES) {
    expect(text).toMatch(/^# yaml-language-server: \$schema=\.\.\/catalogue\.schema\.json\n/);
  }
});

/** An editor's view: JSON Schema draft 7 by ajv, which knows nothing of our contract. */
const valid = new Ajv({ strict: true, allowUnionTypes: true }).compile(JSON.parse(COMMITTED));

test.each([['small', SMALL], ...CATALOGUES.map((c) => [c.name, c.text])])(
  'by JSON Schema alone, %s has no mistake',
  (_name, text) => {
    expect([valid(parse(text ?? '')), valid.errors]).toEqual([true, null]);
  },
);

test.each([
  ['a field of nowhere', bent('repeat: 2', 'colour: red')],
  ['a wrong kind', bent('kind: other', 'kind: boat')],
  ['a missing name', bent('        name: Oil\n', '')],
  ['a bad id', bent('id: oil', 'id: Oil level')],
  ['a wrong act', bent('repeat: 2', 'acts: [smell]')],
  ['a wrong severity', bent('severity: ground', 'severity: bad')],
  ['a place off the plan', bent('y: 90', 'y: 190')],
])('by JSON Schema alone, an editor underlines %s', (_what, text) => {
  expect(valid(parse(text))).toBe(false);
});
