import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { fieldsFor } from '#catalogue';
import { repeatOf, written } from '../../../src/screens/workshop/repeat.ts';

/*
 * Issue 18: whatever the format has is in a form, so that a chief who is no
 * programmer needs no YAML. What no form may change is named here, with why.
 */
const ID = 'never changed once it is in use; a new thing gets one of its own';
const FORMS: readonly (readonly [
  what: string,
  path: readonly (string | number)[],
  files: readonly string[],
  elsewhere: Readonly<Record<string, string>>,
])[] = [
  [
    'catalogue',
    [],
    ['About', 'Gauges', 'Signs', 'Outline'],
    {
      v: 'the format',
      id: ID,
      version: 'counted when an edition is given out',
      history: 'written when an edition is given out',
      language: 'English is the only one that is heard',
    },
  ],
  ['station', ['stations', 0], ['StationForm', 'PlanBoard', 'Outline'], { id: ID }],
  [
    'check',
    ['stations', 0, 'checks', 0],
    ['CheckForm', 'Aspects', 'Places', 'Required', 'Signs', 'Sounds'],
    { id: ID },
  ],
  ['aspect', ['stations', 0, 'checks', 0, 'aspects', 0], ['Aspects'], { id: ID }],
  ['repeat', ['stations', 0, 'checks', 0, 'repeat'], ['Places', 'repeat'], {}],
  ['measure', ['stations', 0, 'checks', 0, 'measures', 0], ['Measures', 'Demands'], {}],
  ['sign', ['signs', 0], ['SignForm', 'Signs', 'Demands'], {}],
  ['gauge', ['gauges', 0], ['Gauges'], {}],
  ['step of a gauge', ['gauges', 0, 'steps', 0], ['Aspects'], {}],
];

describe('issue 18: every field of the format is in a form', () => {
  test.each(FORMS)('%s', (_what, path, files, elsewhere) => {
    const source = files
      .map((f) => {
        const name = f === 'repeat' ? 'repeat.ts' : `${f}.tsx`;
        return readFileSync(`src/screens/workshop/${name}`, 'utf8');
      })
      .join('\n');
    const fields = fieldsFor(path).map((f) => f.name);
    expect(fields.length).toBeGreaterThan(0);
    const lacking = fields.filter(
      (f) => !(f in elsewhere) && !new RegExp(`['"]${f}['"]`).test(source),
    );
    expect(lacking).toEqual([]);
  });
});

describe('places, in the shortest form that says them', () => {
  test.each([
    [undefined, undefined],
    [3, 3],
    [
      ['left', 'right'],
      ['left', 'right'],
    ],
    [
      { of: 2, sides: ['left', 'right'] },
      { of: 2, sides: ['left', 'right'] },
    ],
    [
      { of: 2, sides: ['left'], plural: true },
      { of: 2, sides: ['left'], plural: true },
    ],
    [{ of: ['a', 'b'], plural: false }, ['a', 'b']],
    // The full form, as a catalogue of another device has it.
    [
      { instances: ['left', 'right'], plural: true },
      { of: ['left', 'right'], plural: true },
    ],
  ])('%j is shown and written as %j', (from, to) => {
    expect(written(repeatOf(from))).toEqual(to);
  });
});
