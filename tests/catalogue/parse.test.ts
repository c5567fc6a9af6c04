import { expect, test } from 'vitest';
import { parseCatalogue } from '#catalogue';
import { bent, SMALL } from './small.ts';

const FILE = 'small.yaml';

function problems(text: string): string[] {
  const read = parseCatalogue(text, FILE);
  return read.ok ? [] : read.problems.map((p) => `${p.line}:${p.column} ${p.path} | ${p.text}`);
}

test('the small catalogue is sound, and its short forms come out in full', () => {
  const read = parseCatalogue(SMALL, FILE);
  if (!read.ok) throw new Error(read.problems.map((p) => p.text).join('\n'));
  expect(read.warnings).toEqual([]);
  expect(read.catalogue.stations[0]?.checks[0]).toMatchObject({
    aspects: [
      { id: 'condition', name: 'condition' },
      { id: 'slack', name: 'slack' },
    ],
    repeat: { instances: ['1', '2'], plural: false },
    jasc: '6310',
    acts: ['look'],
    required: 'always',
    blanket: false,
  });
});

test('JSON is valid too', () => {
  const yaml = parseCatalogue(SMALL, FILE);
  if (!yaml.ok) throw new Error('not sound');
  const json = parseCatalogue(JSON.stringify(yaml.catalogue, null, 2), 'small.json');
  expect(json).toMatchObject({ ok: true, catalogue: yaml.catalogue });
});

test('a byte order mark and Windows line ends are read over', () => {
  expect(problems(`\uFEFF${SMALL.replaceAll('\n', '\r\n')}`)).toEqual([]);
});

test('aliases may repeat a part', () => {
  const text = bent('aspects: [condition, slack]', 'aspects: &two [condition, slack]').replace(
    'name: Oil\n',
    'name: Oil\n        aspects: *two\n',
  );
  const read = parseCatalogue(text, FILE);
  expect(read.ok && read.catalogue.stations[0]?.checks[1]?.aspects.map((a) => a.id)).toEqual([
    'condition',
    'slack',
  ]);
});

test.each([
  // what, text, line, path, sentence
  ['an empty file', '', 1, '', 'The file is empty; expected a catalogue.'],
  ['a plain word', 'hello', 1, '', 'This is "hello"; expected a group of fields'],
  ['a list', '- a\n- b\n', 1, '', 'This is a list; expected a group of fields'],
  ['a second document', `${SMALL}---\nv: 1\n`, 49, '', 'A second document begins here'],
  ['a tab', bent('  - id: crack', '\t- id: crack'), 10, '', 'indented with spaces only'],
  ['an open quote', bent('"[qt_us]"', '"[qt_us]'), 0, '', 'not closed'],
  ['a doubled field', bent('kind: other', 'kind: other\nkind: other'), 5, 'kind', 'given twice'],
  ['a missing field', bent('kind: other\n', ''), 1, 'kind', '"kind" is missing; expected'],
  [
    'a wrong kind',
    bent('kind: other', 'kind: boat'),
    4,
    'kind',
    'one of helicopter, aeroplane, glider, gyroplane, other',
  ],
  [
    'an unknown field',
    bent('repeat: 2', 'repeats: 2'),
    25,
    'stations[0].checks[0]',
    'did you mean "repeat"?',
  ],
  [
    'a field of nowhere',
    bent('repeat: 2', 'colour: red'),
    25,
    'stations[0].checks[0]',
    'the fields are id, name',
  ],
  [
    'a number for a name',
    bent('name: Oil', 'name: 7'),
    34,
    'stations[0].checks[1].name',
    'Put it in quotes: "7"',
  ],
  [
    'a bad id',
    bent('id: oil', 'id: Oil level'),
    33,
    'stations[0].checks[1].id',
    'lower-case words joined by hyphens',
  ],
  [
    'a doubled check id',
    bent('id: oil', 'id: belts'),
    33,
    'stations[0].checks[1].id',
    'check id "belts" is used twice',
  ],
  [
    'a doubled station id',
    bent('id: tail\n', 'id: engine\n'),
    41,
    'stations[1].id',
    'station id "engine" is used twice',
  ],
  [
    'a doubled sign id',
    bent('id: strike', 'id: crack'),
    13,
    'signs[1].id',
    'sign id "crack" is used twice',
  ],
  [
    'a doubled aspect',
    bent('[condition, slack]', '[slack, slack]'),
    24,
    'stations[0].checks[0].aspects[1].id',
    'aspect "slack" is used twice',
  ],
  [
    'a doubled place',
    bent('repeat: 2', 'repeat: [left, Left]'),
    25,
    'stations[0].checks[0].repeat',
    '"left" is used twice',
  ],
  [
    'an unknown unit',
    bent('"[qt_us]"', 'quarts'),
    38,
    'stations[0].checks[1].measures[0].unit',
    'not a UCUM unit; write "[qt_us]"',
  ],
  [
    'a unit of the language',
    bent('"[qt_us]"', 'toString'),
    38,
    'stations[0].checks[1].measures[0].unit',
    'not a UCUM unit; expected a code',
  ],
  [
    'a sign pointing nowhere',
    bent('signs: [crack]', 'signs: [krack]'),
    26,
    'stations[0].checks[0].signs[0]',
    'no sign under "signs" with the id "krack"',
  ],
  [
    'a follow-up pointing nowhere',
    bent('followUps: [tail-rotor]', 'followUps: [tail-rotor, tale]'),
    16,
    'signs[1].followUps[1]',
    'no check with the id "tale"',
  ],
  [
    'a gauge pointing nowhere',
    bent('gauge: knuckle', 'gauge: thumb'),
    31,
    'stations[0].checks[0].measures[0].gauge',
    'no gauge with the id "thumb"',
  ],
  [
    'a step that does not exist',
    bent('atMost: first knuckle', 'atMost: third knuckle'),
    32,
    'stations[0].checks[0].measures[0].atMost',
    'its steps are fingertip, first knuckle, second knuckle',
  ],
  [
    'steps upside down',
    bent('atMost: first', 'atLeast: second knuckle\n            atMost: first'),
    32,
    'stations[0].checks[0].measures[0].atLeast',
    'stands above the highest "first knuckle"',
  ],
  [
    'low above high',
    bent('low: 4', 'low: 7'),
    39,
    'stations[0].checks[1].measures[0].low',
    'lowest value 7 is above the highest 6',
  ],
  [
    'limits of the wrong kind',
    bent('atMost: first knuckle', 'high: 1'),
    32,
    'stations[0].checks[0].measures[0].high',
    'with a gauge write "atMost"',
  ],
  [
    'neither unit nor gauge',
    bent('            gauge: knuckle\n            atMost: first knuckle\n', ''),
    29,
    'stations[0].checks[0].measures[0]',
    'neither a unit nor a gauge',
  ],
  [
    'a code outside the FAA table',
    bent('jasc: 6310', 'jasc: 6311'),
    27,
    'stations[0].checks[0].jasc',
    '"6311" is not in the FAA\'s JASC table',
  ],
  [
    'a phone that is none',
    bent('R OW T ER', 'R OH T ER'),
    48,
    'stations[1].checks[0].pronounce.rotor',
    '"OH" is not an ARPABET phone',
  ],
  [
    'a check that nothing demands',
    bent('    followUps: [tail-rotor]\n', ''),
    46,
    'stations[1].checks[0].required',
    'none does',
  ],
  [
    'a prototype key',
    bent('pronounce: { rotor:', 'pronounce: { __proto__:'),
    48,
    'stations[1].checks[0].pronounce',
    '"__proto__" is not a name',
  ],
  [
    'a constructor key',
    bent('kind: other', 'kind: other\nconstructor: 1'),
    5,
    '',
    '"constructor" is not a name',
  ],
  [
    'an alias of nothing',
    bent('signs: [crack]', 'signs: *lost'),
    26,
    'stations[0].checks[0].signs',
    '*lost',
  ],
  ['off the plan', bent('y: 90', 'y: 190'), 43, 'stations[1].place.y', 'at most 100'],
  [
    'a wrong act',
    bent('repeat: 2', 'acts: [smell]'),
    25,
    'stations[0].checks[0].acts[0]',
    'one of look, feel, move, measure, listen',
  ],
  [
    'a wrong circumstance',
    bent('required: follow-up', 'required: [sunday]'),
    47,
    'stations[1].checks[0].required[0]',
    'first-flight',
  ],
  [
    'a unit without quotes',
    bent('"[qt_us]"', '[qt_us]'),
    38,
    'stations[0].checks[1].measures[0].unit',
    'Put it in quotes: "[qt_us]"',
  ],
  [
    'a repeat without its places',
    bent('repeat: 2', 'repeat: { plural: true }'),
    25,
    'stations[0].checks[0].repeat.of',
    '"of" is missing; expected a whole number or a list',
  ],
  ['a newer format', bent('v: 1', 'v: 2'), 1, 'v', 'Update Talkround to read it'],
  [
    'two checks of one name (issue 18)',
    bent('name: Oil', 'name: drive belts'),
    33,
    'stations[0].checks[1]',
    'nobody can tell them apart by ear. Give one of them another name.',
  ],
])('refuses %s in one sentence with its line', (_what, text, line, path, sentence) => {
  const read = parseCatalogue(text, FILE);
  if (read.ok) throw new Error('It was accepted.');
  const first = read.problems[0];
  expect(first).toMatchObject({ file: FILE, path, text: expect.stringContaining(sentence) });
  if (line > 0) expect(first?.line).toBe(line);
  for (const problem of read.problems) expect(problem.text).toMatch(/^[^\n]{10,400}\.$|\?$|"$/);
});

test('each mistake of a file is told, not only the first', () => {
  const text = bent('signs: [crack]', 'signs: [krack]').replace('low: 4', 'low: 7');
  expect(problems(text)).toHaveLength(2);
});

test('the problem of a key stands at the key', () => {
  const read = parseCatalogue(bent('repeat: 2', 'repeats: 2'), FILE);
  expect(read).toMatchObject({ ok: false, problems: [{ line: 25, column: 9 }] });
});

test.each([
  [
    'a sign that no check names',
    bent('signs: [crack]\n', 'signs: []\n'),
    'No check names the sign "crack"',
  ],
  [
    'a gauge that no measure uses',
    bent(
      '            gauge: knuckle\n            atMost: first knuckle\n',
      '            unit: mm\n',
    ),
    'No measure uses the gauge',
  ],
  [
    'a blanket over a measure',
    bent('name: Oil\n', 'name: Oil\n        blanket: true\n'),
    'a blanket gives no value',
  ],
  [
    'a pronunciation of another word',
    bent('{ rotor:', '{ router:'),
    '"router" is in none of the names',
  ],
])('warns of %s', (_what, text, sentence) => {
  const read = parseCatalogue(text, FILE);
  expect(read).toMatchObject({ ok: true, warnings: [{ text: expect.stringContaining(sentence) }] });
});
