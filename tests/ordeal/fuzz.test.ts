import { existsSync, readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { fuzz, inputOf, replay } from './fuzz.ts';
import { targets } from './parsers.ts';

const SEED = 20260105;
const all = targets();
const folder = fileURLToPath(new URL('./finds/', import.meta.url));
/** Named PARSER-SEED-NUMBER. */
const finds = existsSync(folder) ? readdirSync(folder).filter((name) => name.includes('-')) : [];

// The list of answers is left to `npm run fuzz`: its CSV reader writes a warning to
// the console when two columns have one name, and output fails a test here.
const silent = all.filter((t) => t.name !== 'answers');

test.each(silent)(
  `the parser of the $name: 60 changed inputs (seed ${SEED}) hurt nothing`,
  async (target) => {
    for (let n = 0; n < 60; n += 1) await target.run(inputOf(target, SEED, n));
  },
  60_000,
);

test.each(all)(
  'the parser of the $name takes honest input',
  async (target) => {
    for (const sample of target.samples) await target.run(sample);
  },
  60_000,
);

test('the same seed gives the same input, another seed another', () => {
  for (const target of all) {
    expect(inputOf(target, SEED, 5)).toEqual(inputOf(target, SEED, 5));
    const inputs = Array.from({ length: 40 }, (_, n) => inputOf(target, SEED, n));
    const others = Array.from({ length: 40 }, (_, n) => inputOf(target, SEED + 1, n));
    expect(inputs).not.toEqual(others);
    // Most of them are changed, and not all of them beyond recognition.
    const changed = inputs.filter((i) => !target.samples.some((s) => Buffer.compare(s, i) === 0));
    expect(changed.length).toBeGreaterThan(20);
  }
});

test(`what was found before stays mended (${finds.length} finds)`, async () => {
  for (const name of finds) await replay(`${folder}${name}`, name.split('-')[0] ?? '');
}, 60_000);

/** As `npm run fuzz -- 1` does for a minute, in a process of its own, so that a hang is seen. */
test(`twenty seconds of changed inputs (seed ${SEED}) for every parser in turn: no crash, no hang`, async () => {
  const result = await fuzz(1 / 3, SEED);
  expect(result.finds).toEqual([]);
  expect(result).toMatchObject({ crashes: 0, hangs: 0 });
  // Each parser had its turns: twenty seconds on a slow machine are some thousand.
  expect(Object.keys(result.perParser).sort()).toEqual(all.map((t) => t.name).sort());
  expect(result.inputs).toBeGreaterThan(500);
}, 120_000);
