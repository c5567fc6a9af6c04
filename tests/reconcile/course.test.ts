import { expect, test } from 'vitest';
import { coverageOf, fold, start, step } from '#reconcile';
import type { Remark } from '#shared/coverage';
import * as n from './notation.ts';

const { said, good } = n;

/** Remarks of a kind, as "text [checks]". */
function remarks(kind: Remark['kind'], lines: readonly n.Line[], on = n.AIRCRAFT): string[] {
  return fold(on, n.walk(n.begun(), ...lines))
    .remarks.filter((r) => r.kind === kind)
    .map((r) => `${r.text}${r.checks.length === 0 ? '' : ` [${r.checks.join(' ')}]`}`);
}

/** A result that is said from one second to another. */
const at = (from: number, statement: n.Line, text = 'so and so good'): n.Line[] => [
  n.heardAt(from, from + 1, text),
  statement,
];

const ORDERED = n.catalogue({
  inOrder: true,
  stations: ['nose', 'wing', 'tail'].map((id, i) => ({
    id,
    name: id,
    inOrder: id === 'wing',
    place: { x: 50, y: i * 40 },
    checks: [1, 2, 3].map((k) => ({ id: `${id}-${k}`, name: `${id} ${k}` })),
  })),
});

test.each<[string, readonly n.Line[], readonly string[]]>([
  ['in order', [said('nose-1', good()), said('wing-1', good()), said('tail-1', good())], []],
  [
    'a station too late',
    [said('nose-1', good()), said('tail-1', good()), said('wing-1', good())],
    ['wing was walked later than its turn; this catalogue asks for its order. [wing-1]'],
  ],
  [
    'back to a station for a second look',
    [said('nose-1', good()), said('wing-1', good()), said('nose-2', good())],
    [],
  ],
  [
    'a check too late where its station asks for order',
    [said('wing-1', good()), said('wing-3', good()), said('wing-2', good())],
    ['wing 2 was done later than its turn; wing asks for its order. [wing-2]'],
  ],
  ['a check later where no order is asked', [said('nose-3', good()), said('nose-1', good())], []],
  [
    'talk about a later station',
    [said('tail-1', good(), n.force('teaching')), said('nose-1', good()), said('wing-1', good())],
    [],
  ],
])('order: %s', (_name, lines, expected) => {
  expect(remarks('out-of-order', lines, ORDERED)).toEqual(expected);
});

const LEVERS = n.catalogue({
  stations: [
    {
      id: 'cabin',
      name: 'Cabin',
      place: { x: 50, y: 50 },
      checks: Array.from({ length: 9 }, (_, i) => ({
        id: `lever-${i}`,
        name: `Lever ${i}`,
        acts: ['move' as const],
      })),
    },
  ],
});
const ROW = LEVERS.stations.flatMap((s) => s.checks.map((c) => c.id));

test('sing-song: nine levers that are to be moved, answered in nine seconds', () => {
  const lines = ROW.flatMap((check, i) => at(1 + i, said(check, good())));
  expect(remarks('too-fast', lines, LEVERS)).toEqual([
    // A lever takes 1.5 s and gets 1 s; two seconds were in hand before the first.
    `7 checks were answered in 7 s, faster than they can be done. [${ROW.slice(2).join(' ')}]`,
  ]);
});

test.each<[string, readonly n.Line[]]>([
  ['the same at a walking pace', ROW.flatMap((check, i) => at(2 + 2 * i, said(check, good())))],
  [
    'looked at first, then said in one go',
    ROW.flatMap((check, i) => at(20 + i, said(check, good()))),
  ],
  [
    'two quick ones are no pattern',
    ROW.slice(0, 2).flatMap((check, i) => at(1 + i, said(check, good()))),
  ],
  [
    'the same check talked about four times',
    [0, 1, 2, 3, 4, 5, 6, 7, 8].flatMap((i) => at(1 + i, said('lever-1', good()))),
  ],
  ['words without times', ROW.flatMap((check) => [said(check, good())])],
  [
    'typed words',
    ROW.flatMap((check, i): n.Line[] => [
      n.heardAt(1 + i, 1 + i, 'x', 'typed'),
      said(check, good()),
    ]),
  ],
])('no sing-song: %s', (_name, lines) => {
  expect(remarks('too-fast', lines, LEVERS)).toEqual([]);
});

test('from memory: an answer at the tail one second after one at the engine', () => {
  const lines = [...at(10, said('fan', good())), ...at(12, said('skin', good()))];
  expect(remarks('from-memory', lines)).toEqual([
    'Skin at Tail boom was answered before anybody can have walked there from Engine. [skin]',
  ]);
});

test.each<[string, readonly n.Line[]]>([
  ['with time to walk', [...at(10, said('fan', good())), ...at(16, said('skin', good()))]],
  [
    'to a station beside it',
    [...at(10, said('fan', good())), ...at(12, said('brake-line', good(), n.left))],
  ],
  ['at the same station', [...at(10, said('fan', good())), ...at(12, said('belts', good()))]],
  [
    'not a result',
    [...at(10, said('fan', good())), ...at(12, said('skin', good(), n.force('past')))],
  ],
])('not from memory: %s', (_name, lines) => {
  expect(remarks('from-memory', lines)).toEqual([]);
});

test('long silence is remarked on, unless the walk was held', () => {
  const quiet = [...at(10, said('fan', good())), ...at(300, said('belts', good()))];
  expect(remarks('long-silence', quiet)).toEqual(['Nothing was said for 4 min 49 s.']);
  const held = [
    ...at(10, said('fan', good())),
    n.holdOn,
    n.goOn,
    ...at(300, said('belts', good())),
  ];
  expect(remarks('long-silence', held)).toEqual([]);
});

test('FSF ALAR BN 1.5: where it was held, where it was taken up again, what was half done', () => {
  const lines = [
    said('fan', good()),
    said('clutch-belt', n.onGauge('give', 1, 'first knuckle')),
    n.holdOn,
    n.goOn,
    said('skin', good()),
  ];
  expect(remarks('held', lines)).toEqual([
    'Held at Engine with 2 of its 5 checks to go. Taken up again at Tail boom. 2 of them are still open. [belts oil]',
  ]);
  const coverage = fold(n.AIRCRAFT, n.walk(n.begun(), ...lines.slice(0, 3)));
  expect(coverage).toMatchObject({ held: true, station: 'engine', lastCompleted: 'clutch-belt' });
});

test('a hold that nobody ended says so', () => {
  expect(remarks('held', [said('fan', good()), n.holdOn])[0]).toContain('It was not resumed.');
});

test('CR-177549: answers without the value or the state', () => {
  const lines = [said('oil', good()), said('fan', n.checked), said('belts', good('condition'))];
  expect(remarks('value-missing', lines)).toEqual([
    'Oil was answered without its value. [oil]',
    'Fan was answered without saying how it is. [fan]',
  ]);
});

test.each<[string, readonly n.Line[], boolean]>([
  ['not called', [said('fan', good())], true],
  ['said', [said('fan', good()), n.finish], false],
  [
    'the file ended',
    [said('fan', good()), { kind: 'finished', open: [], how: 'end-of-file' }],
    true,
  ],
  ['nothing was said at all', [], false],
])('TM-2010-216396: completion %s', (_name, lines, remarked) => {
  expect(remarks('not-completed', lines).length > 0).toBe(remarked);
});

test('time at each station, holds left out', () => {
  const lines = [
    n.arrive('engine'),
    said('fan', good()),
    n.holdOn,
    n.notUnderstood('telephone', true),
    n.goOn,
    n.arrive('boom'),
    said('skin', good()),
    said('skid', good()),
  ];
  const { times } = fold(n.AIRCRAFT, n.walk(n.begun(), ...lines));
  // Events are a second apart: 1 engine, 3 held, 5 resumed, 6 boom, 8 the end.
  expect(times).toEqual([
    { station: 'engine', from: 1, seconds: 3 },
    { station: 'boom', from: 6, seconds: 2 },
  ]);
});

test.each<[string, readonly n.Line[], string]>([
  [
    'a check that is gone',
    [said('wing', good())],
    '“wing good” is about “wing”, which this catalogue does not have; it counts for no check.',
  ],
  [
    'a station that is gone',
    [n.blanket('cellar', good())],
    '“cellar good” is about “cellar”, which this catalogue does not have; it counts for no check.',
  ],
  [
    'words not understood',
    [n.notUnderstood('mumble the frobnitz')],
    'Not understood: “mumble the frobnitz”.',
  ],
  [
    'another edition',
    [],
    'The walk began with edition e1 of the catalogue and is read with e2; what the two have in common can be trusted.',
  ],
  ['begun twice', [n.begun()], 'The walk was begun twice; the first beginning counts.'],
  [
    'a squawk without a check',
    [],
    'The open squawk “loose trim” belongs to no check of this catalogue; look at it by yourself.',
  ],
  [
    'a finding placed that is not there',
    [n.place(9, 'fan')],
    'A finding was placed that cannot be found, or at a check that the catalogue does not have; it stays where it was.',
  ],
])('R10 nothing heard is dropped, and each oddity is explained: %s', (_name, lines, text) => {
  const first = n.begun({ squawks: [{ squawk: 'q', check: null, text: 'loose trim' }] });
  const coverage = fold(n.AIRCRAFT, n.walk(first, ...lines), 'e2');
  expect(coverage.oddities.map((o) => o.text)).toContain(text);
});

test('events of a newer Talkround are kept and named, and spoil nothing', () => {
  const events = n.walk(n.begun(), said('fan', good()));
  const strange = [
    {
      ...n.event(7, 7, { kind: 'sealed', publicKey: '', signature: '', over: '' }),
      what: { kind: 'telepathy' },
    },
    { ...n.event(8, 8, n.finish), v: 2 },
    {
      ...n.event(9, 9, n.finish),
      what: { kind: 'stated', statement: { kind: 'observation', id: 'x' } },
    },
    { ...n.event(10, 10, n.finish), what: { kind: 'stated' } },
  ] as unknown as typeof events;
  const coverage = fold(n.AIRCRAFT, [...events, ...strange]);
  expect(n.standing(coverage, 'fan')).toBe('spoken for');
  expect(coverage.oddities).toHaveLength(4);
  expect(coverage.oddities[0]?.text).toContain('newer Talkround');
  const stepped = [...events, ...strange].reduce((s, e) => step(s, e).state, start(n.AIRCRAFT));
  expect(coverageOf(stepped)).toEqual(coverage);
});

test.each([
  ['forward', 3_600_000, 'The device’s clock jumped forward by 60 min'],
  ['back', -7_200_000, 'The device’s clock jumped back by'],
])('a clock that jumps %s moves no time of the walk', (_name, by, text) => {
  const events = n.walk(n.begun(), said('fan', good()), said('belts', good()));
  const jumped = events.map((e, i) => (i === 2 ? { ...e, at: e.at + by } : e));
  const coverage = fold(n.AIRCRAFT, jumped);
  expect(coverage.oddities[0]?.text).toContain(text);
  expect(coverage.times).toEqual(fold(n.AIRCRAFT, events).times);
  expect(coverage.checks).toEqual(fold(n.AIRCRAFT, events).checks);
});

test('an event of another walk is left out', () => {
  const events = n.walk(n.begun(), said('fan', good()));
  const other = events.map((e, i) => (i === 1 ? { ...e, walk: 'another' } : e));
  const coverage = fold(n.AIRCRAFT, other);
  expect(n.standing(coverage, 'fan')).toBe('unspoken');
  expect(coverage.oddities).toHaveLength(1);
});
