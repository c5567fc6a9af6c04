import { describe, expect, test } from 'vitest';
import { differences, edited, fieldsFor, mapAt, parseCatalogue, toConfirm } from '#catalogue';
import type { Edit } from '#catalogue';
import type { Catalogue } from '#shared/catalogue';
import { CATALOGUES } from '#seeds';
import { bent, SMALL } from '../small.ts';

function after(text: string, ...edits: Edit[]): string {
  const result = edited(text, edits);
  if (!result.ok) throw new Error(result.error);
  return result.text;
}
function read(text: string): Catalogue {
  const parsed = parseCatalogue(text, 'a');
  if (!parsed.ok) throw new Error(parsed.problems[0]?.text);
  return parsed.catalogue;
}
const CHECKS = ['stations', 0, 'checks'];
const NOTED = SMALL.replace(
  '      - id: belts',
  '      # of the belts\n      # to confirm: two of them\n      - id: belts',
).replace('      - id: oil', '      # of the oil\n      - id: oil  # quarts');

describe('the file stays the author’s: comments and order are kept', () => {
  test.each(CATALOGUES.map((c) => [c.name, c.text]))('%s, one field changed', (_name, text) => {
    const changed = after(text, { do: 'set', path: ['notice'], value: 'Ours.' });
    const comments = (t: string) => t.split('\n').filter((l) => l.trim().startsWith('#'));
    expect(comments(changed)).toEqual(comments(text));
    expect(differences(read(text), read(changed))).toHaveLength(1);
  });

  test('a check that is moved takes its comments along, the first of a list too', () => {
    const moved = after(NOTED, { do: 'move', list: CHECKS, at: 0, to: { list: CHECKS, at: 1 } });
    expect(read(moved).stations[0]?.checks.map((c) => c.id)).toEqual(['oil', 'belts']);
    expect(moved).toMatch(/# of the oil\n +- id: oil +# quarts/);
    expect(moved).toMatch(/# of the belts\n +# to confirm: two of them\n +- id: belts/);
    const back = after(moved, { do: 'move', list: CHECKS, at: 1, to: { list: CHECKS, at: 0 } });
    expect(read(back)).toEqual(read(NOTED));
  });

  test('to another station, and taken out, with its comments', () => {
    const there = after(NOTED, {
      do: 'move',
      list: CHECKS,
      at: 0,
      to: { list: ['stations', 1, 'checks'], at: 0 },
    });
    expect(read(there).stations.map((s) => s.checks.map((c) => c.id))).toEqual([
      ['oil'],
      ['belts', 'tail-rotor'],
    ]);
    expect(there).toMatch(/# to confirm: two of them\n +- id: belts/);
    const out = after(NOTED, { do: 'remove', list: CHECKS, at: 0 });
    expect(out).not.toContain('of the belts');
    expect(out).toContain('of the oil');
  });

  test('what is confirmed loses its mark and keeps its other comments', () => {
    expect([...toConfirm(NOTED)]).toEqual([['0.0', ['two of them']]]);
    const sure = after(NOTED, { do: 'confirm', list: CHECKS, at: 0 });
    expect(toConfirm(sure).size).toBe(0);
    expect(sure).toContain('# of the belts');
  });

  test('[a, b] is written as authors write it, and words with brackets stay what they were', () => {
    const bracket = bent('name: Small aircraft', 'name: "see [ 1 ] there"');
    const changed = after(bracket, { do: 'set', path: ['notice'], value: 'Ours.' });
    expect(changed).toContain('aspects: [condition, slack]');
    expect(read(changed).name).toBe('see [ 1 ] there');
  });

  test.each([
    ['a file that cannot be read', 'stations: [', 'mend it in the text first'],
    ['an entry that is gone', SMALL, 'not in the file any more'],
  ])('%s is refused in one sentence', (_what, text, sentence) => {
    expect(edited(text, [{ do: 'remove', list: CHECKS, at: 9 }])).toMatchObject({
      ok: false,
      error: expect.stringContaining(sentence),
    });
  });
});

describe('differences in plain words', () => {
  const told = (...edits: Edit[]) => differences(read(SMALL), read(after(SMALL, ...edits)));
  test.each<[string, Edit[], string[]]>([
    [
      'a limit',
      [{ do: 'set', path: [...CHECKS, 1, 'measures', 0, 'low'], value: 5 }],
      ['Oil, Level: limit changed from 4 to 6 quarts to 5 to 6 quarts.'],
    ],
    [
      'a limit, and what a value outside it means',
      [
        { do: 'set', path: [...CHECKS, 1, 'measures', 0, 'high'], value: 7 },
        { do: 'set', path: [...CHECKS, 1, 'measures', 0, 'severity'], value: 'watch' },
      ],
      [
        'Oil, Level: limit changed from 4 to 6 quarts to 4 to 7 quarts.',
        'Oil, Level: what a value outside its limit means is changed.',
      ],
    ],
    [
      'a check',
      [{ do: 'insert', list: CHECKS, at: 2, value: { id: 'fan', name: 'Fan' } }],
      ['1 check added: Fan (Engine).'],
    ],
    [
      'a check taken out',
      [{ do: 'remove', list: CHECKS, at: 1 }],
      ['1 check taken out: Oil (Engine).'],
    ],
    [
      'the order',
      [{ do: 'move', list: CHECKS, at: 0, to: { list: CHECKS, at: 1 } }],
      ['Engine: its checks come in another order.'],
    ],
    [
      'the stations',
      [{ do: 'move', list: ['stations'], at: 0, to: { list: ['stations'], at: 1 } }],
      ['The stations come in another order: Tail, Engine.'],
    ],
    [
      'a blanket',
      [{ do: 'set', path: [...CHECKS, 0, 'blanket'], value: true }],
      ['Drive belts: a verdict over the whole station speaks for it now.'],
    ],
    [
      'a severity of a sign',
      [{ do: 'set', path: ['signs', 0, 'severity'], value: 'watch' }],
      ['Sign changed: Crack.'],
    ],
    ['a comment', [{ do: 'set', path: ['version'], value: 4 }], []],
  ])('%s', (_what, edits, lines) => {
    expect(told(...edits)).toEqual(lines);
  });

  test('no field of a check changes unseen: each that the schema has is told', () => {
    const other: Readonly<Record<string, unknown>> = {
      name: 'Belt',
      say: ['strap'],
      pronounce: { belts: 'B EH L T S' },
      aspects: ['condition'],
      acts: ['feel'],
      repeat: 3,
      required: ['night'],
      blanket: true,
      optional: true,
      mandatory: true,
      signs: [],
      measures: [],
      caution: 'Hot.',
      jasc: '6210',
      source: 'Us.',
    };
    const fields = fieldsFor(CHECKS.concat(0)).map((f) => f.name);
    for (const field of fields.filter((f) => f !== 'id')) {
      expect(
        Object.keys(other),
        `give "${field}" another value here, and tell it in differences.ts`,
      ).toContain(field);
      expect(
        told({ do: 'set', path: [...CHECKS, 0, field], value: other[field] }),
        field,
      ).toHaveLength(1);
    }
  });
});

describe('what may stand where, for the editor', () => {
  const lines = SMALL.split('\n');
  const at = (text: string) =>
    mapAt(
      lines,
      lines.findIndex((l) => l.includes(text)),
    );
  test.each([
    ['kind: other', []],
    ['place: { x: 50, y: 40 }', ['stations', 0]],
    ['name: Drive belts', ['stations', 0, 'checks', 0]],
    ['- id: give', ['stations', 0, 'checks', 0, 'measures', 0]],
    ['high: 6', ['stations', 0, 'checks', 0, 'measures', 0]],
    ['- id: strike', ['signs', 0]],
  ])('%s', (text, path) => {
    expect(at(text)).toEqual(path);
  });
  test('with the words of the schema', () => {
    const blanket = fieldsFor(['stations', 0, 'checks', 0]).find((f) => f.name === 'blanket');
    expect(blanket?.flag).toBe(true);
    expect(blanket?.about).toContain('everything on the tail boom');
    expect(fieldsFor([]).find((f) => f.name === 'kind')?.values).toContain('gyroplane');
  });
});

test('a circle of follow-ups and a limit without a unit: one sentence each with its line', () => {
  const circle = parseCatalogue(
    bent(
      'name: Tail rotor\n',
      'name: Tail rotor\n        signs:\n          - { id: s, name: s, followUps: [tail-rotor] }\n',
    ),
    'a',
  );
  const bare = parseCatalogue(bent('            unit: "[qt_us]"\n', ''), 'a');
  for (const [parsed, sentence] of [
    [circle, 'go round in a circle'],
    [bare, 'neither a unit nor a gauge'],
  ] as const) {
    if (parsed.ok) throw new Error('It was accepted.');
    expect(parsed.problems[0]).toMatchObject({ text: expect.stringContaining(sentence) });
    expect(parsed.problems[0]?.line).toBeGreaterThan(1);
  }
});
